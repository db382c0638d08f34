import normal from '@stdlib/stats-base-dists-normal';
import type { Estimate } from '../assessment.ts';
import type { Lognormal } from '../wood/index.ts';

/** The interval that the program states unless asked for another: its lower end is the lower 5 % value. */
const DEFAULT_LEVEL = 0.9;

/**
 * States a lognormal quantity as its median and central interval.
 * @param level - chance that the interval holds the truth, between 0 and 1. @default 0.9
 */
export function lognormalEstimate({ median, logSd }: Lognormal, level = DEFAULT_LEVEL): Estimate {
  const reach = normal.quantile((1 + level) / 2, 0, 1) * logSd;
  return { value: median, low: median * Math.exp(-reach), high: median * Math.exp(reach), level };
}

/**
 * Computes the chance that a lognormal quantity is below a limit.
 * @param limit - above 0, in the unit of the quantity
 */
export function chanceBelow({ median, logSd }: Lognormal, limit: number): number {
  return normal.cdf(Math.log(limit), Math.log(median), logSd);
}
