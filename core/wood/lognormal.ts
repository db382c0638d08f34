/** A quantity whose logarithm is normal: its median and the standard deviation of its natural logarithm. */
export type Lognormal = { readonly median: number; readonly logSd: number };

/**
 * Finds the lognormal with a given mean and coefficient of variation.
 * @param mean - above 0
 * @param variation - standard deviation over mean, 0 or more
 */
export function lognormalFromMean(mean: number, variation: number): Lognormal {
  const spread = 1 + variation * variation;
  return { median: mean / Math.sqrt(spread), logSd: Math.sqrt(Math.log(spread)) };
}
