import type { Estimate } from '../../assessment.ts';
import { reachOf } from './quantileOf.ts';
import { medianOf, type StrengthDistribution } from './strengthDistribution.ts';

/** The interval that the program states unless asked for another: its lower end is the lower 5 % value. */
const DEFAULT_LEVEL = 0.9;

/**
 * States a quantity as its median and central interval. No strength is below 0: there an interval on the linear scale ends.
 * @param level - chance that the interval holds the truth, between 0 and 1. @default 0.9
 */
export function estimateOf(distribution: StrengthDistribution, level = DEFAULT_LEVEL): Estimate {
  const { scale, centre } = distribution;
  const reach = reachOf(distribution, (1 + level) / 2);
  const value = medianOf(distribution);
  if (scale === 'log') return { value, low: value * Math.exp(-reach), high: value * Math.exp(reach), level };
  return { value, low: Math.max(0, centre - reach), high: centre + reach, level };
}
