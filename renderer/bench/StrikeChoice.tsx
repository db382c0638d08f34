import { VerdictMark } from '../parts/index.ts';
import type { Strike } from '../types.ts';
import { isUsed } from './stretches.ts';

const FEWEST_COMBINED = 2;

/** Which strike of the recording is looked at: one of them, all that can be used together, or all of it. */
export function StrikeChoice({
  strikes,
  chosen,
  onChoose,
}: {
  strikes: readonly Strike[];
  chosen: number | 'combined' | null;
  onChoose: (strike: number | 'combined' | null) => void;
}) {
  const usable = strikes.filter(isUsed);
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
          {strike.overruled && (strike.overruled.use ? ' used by hand' : ' left out')}
        </button>
      ))}
      {usable.length >= FEWEST_COMBINED && (
        <button
          type="button"
          aria-pressed={chosen === 'combined'}
          title="Mean power over the strikes that can be used"
          onClick={() => onChoose('combined')}
        >
          combined
        </button>
      )}
      <button type="button" aria-pressed={chosen === null} onClick={() => onChoose(null)}>
        whole recording
      </button>
    </fieldset>
  );
}
