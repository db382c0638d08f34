import type { Assessment } from '../../assessment.ts';
import type { ResultSummary } from '../summarise.ts';

export type DatedSummary = { readonly date: string; readonly summary: ResultSummary };

export type Changes = {
  /** In short, as the register gives it as a reason to look. */
  readonly words: string;
  /** The same in full, for the result itself. */
  readonly finding: Assessment['findings'][number];
};

type Change = {
  readonly name: string;
  readonly ratio: number;
  /** What it was and is, with its unit; of frequencies, which are measured. */
  readonly fromTo: string | null;
};

/** Kind of the finding. */
export const CHANGED = 'changed-between-visits';

/** Half the width of a 90 % interval in standard deviations. */
const Z_OF_90_PERCENT = 1.645;
/** A difference this many joint standard deviations wide is told (ours). */
const TOLD_FROM_SDS = 2;
/** Frequencies repeat within a percent or two from day to day; moisture, frost and cables move them as much again (ours). */
const TOLD_FREQUENCY_SHARE = 0.05;

const FREQUENCY_RULE =
  'Two recordings of an unchanged pole differ by a percent or two, and moisture, frost and cables move them as much again: ' +
  `from ${100 * TOLD_FREQUENCY_SHARE} % on, measurement and season do not explain it.`;
const INTERVAL_RULE = 'That is more than twice the joint uncertainty of the two results.';

const ADVICE = {
  fell: 'Frequencies fall where section or soil is lost at ground line, where wood softens, and where weight was added. Excavate, sound and bore, and compare what hangs on the pole.',
  rose: 'A pole does not grow stronger: look for frozen or drier ground, for weight or cables taken away, and for a measurement that was made otherwise.',
  other: 'Compare girths, heights, moisture, cables and picks of both visits before anything is made of it.',
};

/**
 * What differs from an earlier visit to the same pole by more than the two measurements explain; null where nothing does. The visit
 * before is asked first, then the first of all, so that what changes slowly is told as well. All results rest on the same priors, so a
 * real change shows later here than it could.
 * @param earlier - visits with a result, by date; of them the last and the first are looked at
 */
export function tellChanges(earlier: readonly DatedSummary[], now: ResultSummary): Changes | null {
  for (const visit of new Set([earlier.at(-1), earlier[0]])) {
    const changes = visit && compare(visit, now);
    if (changes) return changes;
  }
  return null;
}

function compare({ date, summary: before }: DatedSummary, now: ResultSummary): Changes | null {
  const ofFit = [
    ...compareIntervals('E', before.modulusIntervalPa, now.modulusIntervalPa),
    ...compareIntervals('fixity', before.fixityInterval, now.fixityInterval),
    ...compareIntervals('capacity', before.capacityNm, now.capacityNm),
  ];
  const frequencies = now.frequenciesHz.flatMap((hz, i) =>
    compareFrequencies(`f${i + 1}`, before.frequenciesHz[i] ?? null, hz),
  );
  const all = [...ofFit, ...frequencies];
  if (all.length === 0) return null;
  const moved = [...frequencies, ...ofFit].map(({ fromTo, ...change }) =>
    fromTo === null ? tellShare(change) : `${tellShare(change)} (${fromTo})`,
  );
  const kind = frequencies.length === 0 ? 'other' : frequencies.some(isLower) ? 'fell' : 'rose';
  return {
    words: `${all.map(tellShare).join(', ')} than on ${date}`,
    finding: {
      id: CHANGED,
      text: [
        `Compared with the visit of ${date}: ${moved.join(', ')}.`,
        ...(frequencies.length > 0 ? [FREQUENCY_RULE] : [INTERVAL_RULE]),
        ADVICE[kind],
      ].join(' '),
    },
  };
}

function compareIntervals(
  name: string,
  before: ResultSummary['capacityNm'],
  now: ResultSummary['capacityNm'],
): Change[] {
  if (!before || !now) return [];
  const ratio = now.value / before.value;
  const sd = Math.hypot(logSd(before), logSd(now));
  return Math.abs(Math.log(ratio)) < TOLD_FROM_SDS * sd ? [] : [{ name, ratio, fromTo: null }];
}

function logSd({ low, high }: NonNullable<ResultSummary['capacityNm']>): number {
  return Math.log(high / low) / (2 * Z_OF_90_PERCENT);
}

function compareFrequencies(name: string, beforeHz: number | null, nowHz: number | null): Change[] {
  if (beforeHz === null || nowHz === null) return [];
  const ratio = nowHz / beforeHz;
  if (Math.abs(ratio - 1) < TOLD_FREQUENCY_SHARE) return [];
  return [{ name, ratio, fromTo: `${beforeHz.toFixed(2)} to ${nowHz.toFixed(2)} Hz` }];
}

function isLower({ ratio }: Change): boolean {
  return ratio < 1;
}

function tellShare({ name, ratio }: Pick<Change, 'name' | 'ratio'>): string {
  return `${name} ${Math.round(100 * Math.abs(ratio - 1))} % ${ratio < 1 ? 'lower' : 'higher'}`;
}
