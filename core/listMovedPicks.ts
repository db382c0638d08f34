import { isSamePeak } from './isSamePeak.ts';
import { Z_OF_90_PERCENT } from './ninetyPercent.ts';
import type { ProposedPick } from './numberedPick.ts';

/** An analyst's pick that is read at another frequency than it was set at. */
export type MovedPick = {
  readonly plane: number;
  readonly azimuthDeg: number;
  readonly number: number;
  readonly setHz: number;
  readonly frequencyHz: number;
};

/** Picks whose frequency, as the strikes give it, is another peak than they were set at and further off than its own interval. */
export function listMovedPicks(picks: readonly ProposedPick[]): MovedPick[] {
  return picks.flatMap(({ candidate, fixedNumber, setHz }): MovedPick[] => {
    if (fixedNumber === null || setHz === null) return [];
    const { plane, azimuthDeg, frequencyHz } = candidate;
    const isRead =
      isSamePeak(candidate, plane, setHz) ||
      Math.abs(frequencyHz.value - setHz) <= Z_OF_90_PERCENT * frequencyHz.sd;
    return isRead ? [] : [{ plane, azimuthDeg, number: fixedNumber, setHz, frequencyHz: frequencyHz.value }];
  });
}
