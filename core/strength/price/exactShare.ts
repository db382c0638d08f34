import beta from '@stdlib/stats-base-dists-beta';
import type { Interval } from './judgedTest.ts';

/**
 * Computes exact limits of a share from independent yes-or-no trials; they hold the truth at least as often as `level` says.
 * Source: Clopper and Pearson 1934, Biometrika 26(4) 404-413, in the form of beta quantiles.
 * @returns null without trials
 */
export function exactShare(
  count: number,
  trials: number,
  level: number,
): (Interval & { value: number }) | null {
  if (trials === 0) return null;
  const tail = (1 - level) / 2;
  return {
    value: count / trials,
    low: count === 0 ? 0 : beta.quantile(tail, count, trials - count + 1),
    high: count === trials ? 1 : beta.quantile(1 - tail, count + 1, trials - count),
    level,
  };
}
