import { pickRank } from './pickRank.ts';

/**
 * The value that would stand at floor(share * (count - 1)) if all were sorted.
 * @param values - one or more, finite
 * @param share - 0 to 1
 */
export function takeQuantile(values: Float64Array, share: number): number {
  return pickRank(values.slice(), Math.floor(share * (values.length - 1)));
}
