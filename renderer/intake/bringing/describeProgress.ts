import type { BringProgress } from './bringStore.ts';

const MS_A_SECOND = 1000;
const SECONDS_A_MINUTE = 60;
/** A guess from fewer is worth nothing. */
const TOLD_FROM_DONE = 2;

/** `Reading KV-0101.visit.json: 3 of 40, about 20 s left`. @param nowMs - on the clock of its start */
export function describeProgress({ done, of, now, startedMs }: BringProgress, nowMs: number): string {
  const place = `Reading ${now}: ${done + 1} of ${of}`;
  if (done < TOLD_FROM_DONE) return place;
  const seconds = Math.ceil((((nowMs - startedMs) / done) * (of - done)) / MS_A_SECOND);
  const left = seconds < SECONDS_A_MINUTE ? `${seconds} s` : `${Math.round(seconds / SECONDS_A_MINUTE)} min`;
  return `${place}, about ${left} left`;
}
