import normal from '@stdlib/stats-base-dists-normal';
import t from '@stdlib/stats-base-dists-t';
import { toleranceFactor } from '../distribution/toleranceFactor.ts';

/** What a relation fitted to so many tests is to be expected to tell of a pole, in standard deviations of one pole. */
export type TestForecast = {
  readonly tests: number;
  /** Root mean square error of the prediction. */
  readonly error: number;
  /** Reach of the 95 % prediction interval to either side. */
  readonly reach: number;
  /** How far the lower 5 % value, and the limit that 95 % of poles exceed with 75 % confidence, lie below the median. */
  readonly lower5Percent: number;
  readonly tolerance: number;
};

/**
 * Forecasts a relation with k coefficients beside the intercept from n tests: the mean square error of a prediction is
 * s^2 (n + 1)(n - 2) / (n (n - k - 2)) for normal predictors of poles and tests drawn alike (Stein 1960, from memory; it follows from
 * h = 1/n + d^2 / (n - 1) and the mean of Hotelling's T^2).
 * @param tests - n, more than k + 2
 * @param slopes - k; of pooled groups the sum of leverages less 1
 */
export function forecastTests(tests: number, slopes: number): TestForecast {
  const n = tests;
  const meanSquare = ((n + 1) * (n - 2)) / (n * (n - slopes - 2));
  const freedom = n - slopes - 1;
  return {
    tests: n,
    error: Math.sqrt(meanSquare),
    reach: Math.sqrt(meanSquare) * t.quantile(0.975, freedom),
    lower5Percent: Math.sqrt(meanSquare) * t.quantile(0.95, freedom),
    tolerance: toleranceFactor(meanSquare - 1, freedom),
  };
}

/** Interval of a standard deviation known from few degrees of freedom, as factors of it. */
export function spreadOfDeviation(degreesOfFreedom: number, level: number): { low: number; high: number } {
  const factor = (share: number) => Math.sqrt(1 / chiSquareRatio(share, degreesOfFreedom));
  return { low: factor((1 + level) / 2), high: factor((1 - level) / 2) };
}

/** Quantile of chi-square over its degrees of freedom, good to 1 % from 3 on (Wilson and Hilferty 1931, PNAS 17:684). */
function chiSquareRatio(share: number, degreesOfFreedom: number): number {
  const a = 2 / (9 * degreesOfFreedom);
  return (1 - a + normal.quantile(share, 0, 1) * Math.sqrt(a)) ** 3;
}
