import type { ResultSummary } from '../summarise.ts';

export type DatedSummary = { readonly date: string; readonly summary: ResultSummary };

/** Half the width of a 90 % interval in standard deviations. */
const Z_OF_90_PERCENT = 1.645;
/** A difference this many joint standard deviations wide is told (ours). */
const TOLD_FROM_SDS = 2;
/** Frequencies repeat within a percent or two from day to day; moisture and cables move them as much again (ours). */
const TOLD_FREQUENCY_SHARE = 0.05;

type Interval = { readonly value: number; readonly low: number; readonly high: number };

/**
 * What differs from an earlier visit to the same pole by more than the two measurements explain, in words; null where
 * nothing does. Both results rest on the same priors, so a real change shows later here than it could.
 */
export function tellChanges(earlier: DatedSummary, now: ResultSummary): string | null {
  const before = earlier.summary;
  const told = [
    ...tellInterval('E', before.modulusIntervalPa, now.modulusIntervalPa),
    ...tellInterval('fixity', before.fixityInterval, now.fixityInterval),
    ...tellInterval('capacity', before.capacityNm, now.capacityNm),
    ...now.frequenciesHz.flatMap((hz, i) => tellFrequency(`f${i + 1}`, before.frequenciesHz[i] ?? null, hz)),
  ];
  return told.length === 0 ? null : `${told.join(', ')} than on ${earlier.date}`;
}

function tellInterval(name: string, before: Interval | null, now: Interval | null): string[] {
  if (!before || !now) return [];
  const difference = Math.log(now.value / before.value);
  const sd = Math.hypot(logSd(before), logSd(now));
  return Math.abs(difference) < TOLD_FROM_SDS * sd ? [] : [tellShare(name, now.value / before.value)];
}

function logSd({ low, high }: Interval): number {
  return Math.log(high / low) / (2 * Z_OF_90_PERCENT);
}

function tellFrequency(name: string, before: number | null, now: number | null): string[] {
  if (before === null || now === null) return [];
  return Math.abs(now / before - 1) < TOLD_FREQUENCY_SHARE ? [] : [tellShare(name, now / before)];
}

function tellShare(name: string, ratio: number): string {
  return `${name} ${Math.round(100 * Math.abs(ratio - 1))} % ${ratio < 1 ? 'lower' : 'higher'}`;
}
