import { exactShare } from './exactShare.ts';
import type { Interval } from './judgedTest.ts';

/** A share by count that a cost is paid on. */
export type CostPart = { readonly count: number; readonly trials: number; readonly weight: number };

/**
 * Computes an interval of a sum of two shares, each times a weight, from the exact limits of each: value less and plus the
 * root of the squared distances to the limits. Unlike a bootstrap it keeps a width where nothing was missed.
 * Source: Zou and Donner 2008, Statistics in Medicine 27(10) 1693-1702 (from memory), with the limits of Clopper and Pearson; its
 * coverage is simulated in docs/studies/price.md.
 * @returns null where a share has no trials
 */
export function costInterval(parts: readonly CostPart[], level: number): Interval | null {
  let value = 0;
  let below = 0;
  let above = 0;
  for (const { count, trials, weight } of parts) {
    const share = exactShare(count, trials, level);
    if (share === null) return null;
    value += weight * share.value;
    below += (weight * (share.value - share.low)) ** 2;
    above += (weight * (share.high - share.value)) ** 2;
  }
  return { low: Math.max(0, value - Math.sqrt(below)), high: value + Math.sqrt(above), level };
}
