import type { CallRequest, CallResponse } from '../../types.ts';

export type Here = NonNullable<CallResponse<'calibration.readTests'>['alreadyHere']>;
export type Answer = NonNullable<CallRequest<'calibration.chooseTests'>['alreadyHere']>['answer'];

const ANSWERS: readonly { answer: Answer; words: string }[] = [
  { answer: 'leave-out', words: 'Leave out those of this table' },
  { answer: 'replace', words: 'Set the earlier ones aside' },
  { answer: 'keep-both', words: 'Count both' },
];

/** What becomes of tests that are in use already, until a person says otherwise; null where they have to say. */
export function usualAnswer({ differing }: Here): Answer | null {
  return differing.length === 0 ? 'leave-out' : null;
}

type AlreadyHereProps = { here: Here; answer: Answer | null; onAnswer: (answer: Answer) => void };

/** Tests whose specimens are in use already: a person says what becomes of them. */
export function AlreadyHere({ here, answer, onAnswer }: AlreadyHereProps) {
  return (
    <fieldset className="already-here">
      <legend>{here.words}</legend>
      {here.differing.length > 0 && (
        <ul>
          {here.differing.map(({ test, line, differences }) => (
            <li key={test}>
              Line {line}, test {test}: {differences.join(', ')}
            </li>
          ))}
        </ul>
      )}
      {ANSWERS.map(({ answer: own, words }) => (
        <label key={own}>
          <input type="radio" name="already here" checked={own === answer} onChange={() => onAnswer(own)} />
          {words}
        </label>
      ))}
    </fieldset>
  );
}
