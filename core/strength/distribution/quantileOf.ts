import normal from '@stdlib/stats-base-dists-normal';
import t from '@stdlib/stats-base-dists-t';
import { standardChanceBelow } from './chanceBelow.ts';
import { solveIncreasing } from './solveIncreasing.ts';
import type { StrengthDistribution } from './strengthDistribution.ts';

/** Half width of the first bracket about the approximate quantile, in terms of the quantile. */
const BRACKET = 0.01;

/**
 * Finds the value that a quantity is below with a given chance.
 * @param share - above 0, below 1
 */
export function quantileOf(distribution: StrengthDistribution, share: number): number {
  const onScale = distribution.centre + reachOf(distribution, share);
  return distribution.scale === 'log' ? Math.exp(onScale) : onScale;
}

/** Quantile of normalSd Z + studentScale T, which is symmetric about 0. */
export function reachOf(distribution: StrengthDistribution, share: number): number {
  const { normalSd, studentScale, degreesOfFreedom } = distribution;
  const sd = Math.hypot(normalSd, studentScale);
  if (studentScale === 0 || degreesOfFreedom === Number.POSITIVE_INFINITY) {
    return sd * normal.quantile(share, 0, 1);
  }
  // effective degrees of freedom of the sum (Welch and Satterthwaite; JCGM 100:2008, G.4.1) start the search, and no more
  const effective = degreesOfFreedom * (sd / studentScale) ** 4;
  const guess = sd * t.quantile(share, effective);
  if (normalSd === 0 || guess === 0) return guess;
  const reach = BRACKET * Math.abs(guess);
  return solveIncreasing(standardChanceBelow(distribution), share, guess - reach, guess + reach);
}
