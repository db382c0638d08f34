import { SPECIES } from '../../../core/workspace/contract.ts';
import type { CallResponse } from '../../types.ts';
import { describeSpecies } from '../../words/index.ts';

type Reading = CallResponse<'calibration.readTests'>;
type UnknownSpeciesProps = { reading: Reading; onChange: (mapping: Reading['mapping']) => void };

/** Names of species that are not known here, each to be taken for a known one; tests of other species speak of no pole. */
export function UnknownSpecies({ reading, onChange }: UnknownSpeciesProps) {
  const { unknownSpecies, mapping } = reading;
  return (
    <section className="table-doubts" aria-label="Species not known here">
      <h3>Species not known here: tests of other species speak of no pole.</h3>
      <ul>
        {unknownSpecies.map(({ name, tests }) => (
          <li key={name}>
            <label className="select-line">
              <span>
                “{name}”, {tests === 1 ? '1 test' : `${tests} tests`}
              </span>
              <select
                value={mapping.species?.[name] ?? 'other'}
                onChange={(event) =>
                  onChange({
                    ...mapping,
                    species: {
                      ...mapping.species,
                      [name]: event.currentTarget.value as (typeof SPECIES)[number],
                    },
                  })
                }
              >
                {SPECIES.map((species) => (
                  <option key={species} value={species}>
                    {describeSpecies(species)}
                  </option>
                ))}
              </select>
            </label>
          </li>
        ))}
      </ul>
    </section>
  );
}
