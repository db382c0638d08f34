import type { ModeCandidate } from './modal/index.ts';

/** A decision this near to a candidate, in ln f, is about it. */
const SAME_PEAK_LOG_DISTANCE = 0.015;

/** Whether a decision on a frequency of a plane is about a peak. */
export function isSamePeak(
  { plane: own, frequencyHz: { value } }: Pick<ModeCandidate, 'plane' | 'frequencyHz'>,
  plane: number,
  frequencyHz: number,
): boolean {
  return own === plane && Math.abs(Math.log(frequencyHz / value)) < SAME_PEAK_LOG_DISTANCE;
}
