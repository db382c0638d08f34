import { VerdictMark } from '../parts/index.ts';
import type { Strike } from '../types.ts';

/** Which strike of the recording is looked at: one of them, or all of it. */
export function StrikeChoice({
  strikes,
  chosen,
  onChoose,
}: {
  strikes: readonly Strike[];
  chosen: number | null;
  onChoose: (strike: number | null) => void;
}) {
  return (
    <fieldset className="choice">
      <legend className="visually-hidden">Strike</legend>
      <span aria-hidden className="quiet">
        Strike
      </span>
      {strikes.map((strike, index) => (
        <button
          key={strike.startS}
          type="button"
          aria-pressed={chosen === index}
          onClick={() => onChoose(index)}
        >
          {index + 1} <VerdictMark verdict={strike.verdict} />
        </button>
      ))}
      <button type="button" aria-pressed={chosen === null} onClick={() => onChoose(null)}>
        whole recording
      </button>
    </fieldset>
  );
}
