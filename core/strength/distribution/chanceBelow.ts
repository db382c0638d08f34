import normal from '@stdlib/stats-base-dists-normal';
import t from '@stdlib/stats-base-dists-t';
import { chiSquareNodes } from './chiSquareNodes.ts';
import type { StrengthDistribution } from './strengthDistribution.ts';

/**
 * Computes the chance that a quantity is below a limit.
 * @param limit - in the unit of the quantity; at or below 0 the chance is 0 on the log scale
 */
export function chanceBelow(distribution: StrengthDistribution, limit: number): number {
  if (distribution.scale === 'linear') return standardChanceBelow(distribution)(limit - distribution.centre);
  if (limit <= 0) return 0;
  return standardChanceBelow(distribution)(Math.log(limit) - distribution.centre);
}

/**
 * Chance that normalSd Z + studentScale T is below a value, as a function of the value. T is Z' / sqrt(W / nu) with W chi-square,
 * so that the sum is a mixture of normals over W: P = E_W[Phi(x / sqrt(normalSd^2 + studentScale^2 nu / W))].
 */
export function standardChanceBelow({
  normalSd,
  studentScale,
  degreesOfFreedom,
}: StrengthDistribution): (value: number) => number {
  if (studentScale === 0 || degreesOfFreedom === Number.POSITIVE_INFINITY) {
    const sd = Math.hypot(normalSd, studentScale);
    return (value) => normal.cdf(value, 0, sd);
  }
  if (normalSd === 0) return (value) => t.cdf(value / studentScale, degreesOfFreedom);
  const { ratios, weights } = chiSquareNodes(degreesOfFreedom);
  const sds = ratios.map((ratio) => Math.sqrt(normalSd ** 2 + studentScale ** 2 / ratio));
  return (value) => sds.reduce((sum, sd, i) => sum + weights[i]! * normal.cdf(value / sd, 0, 1), 0);
}
