/** A pointer hits a line on screen to about this many pixels. */
export const REACH_PX = 6;

/**
 * The frequency of the highest value within reach of a place, climbed from there to the top.
 * @param frequenciesHz - ascending
 * @param values - one for each frequency
 * @param reachHz - half width of the search
 * @returns the place itself where there are no values
 */
export function snapToPeak(
  frequenciesHz: readonly number[],
  values: readonly number[],
  atHz: number,
  reachHz: number,
): number {
  let best = -1;
  for (let i = 0; i < frequenciesHz.length; i++) {
    if (Math.abs(frequenciesHz[i]! - atHz) <= reachHz && (best < 0 || values[i]! > values[best]!)) best = i;
  }
  if (best < 0) return atHz;
  while (best > 0 && values[best - 1]! > values[best]!) best--;
  while (best < values.length - 1 && values[best + 1]! > values[best]!) best++;
  return frequenciesHz[best]!;
}
