import type { CallResponse } from '../../types.ts';

type Reading = CallResponse<'calibration.readTests'>;
type DifferingTestsProps = { reading: Reading; onChange: (mapping: Reading['mapping']) => void };

/** Tests that name a visited pole and do not look like it: linked where a person says that it is the same pole. */
export function DifferingTests({ reading: { differing, mapping }, onChange }: DifferingTestsProps) {
  const { samePole = [], ...others } = mapping;
  const say = (test: string, isSame: boolean) => {
    const left = samePole.filter((name) => name !== test);
    const said = isSame ? [...left, test] : left;
    onChange(said.length > 0 ? { ...others, samePole: said } : others);
  };
  return (
    <section className="table-doubts" aria-label="Same name, different pole?">
      <h3>Same name, different pole? Not linked unless you say that it is the same.</h3>
      <ul>
        {differing.map(({ test, line, visit, differences, isSamePole }) => (
          <li key={test}>
            <label>
              <input
                type="checkbox"
                checked={isSamePole}
                onChange={(event) => say(test, event.currentTarget.checked)}
              />
              Test {test} is of the pole visited on {visit}
            </label>{' '}
            <span className="quiet">
              Line {line}: {differences.join('; ')}.
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
