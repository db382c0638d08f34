import normal from '@stdlib/stats-base-dists-normal';
import { chiSquareNodes } from './chiSquareNodes.ts';
import { solveIncreasing } from './solveIncreasing.ts';

/**
 * Finds a quantile of the noncentral t distribution, that of (Z + delta) / sqrt(W / nu) with Z standard normal and W
 * chi-square with nu degrees of freedom: P(T <= t) = E_W[Phi(t sqrt(W / nu) - delta)] (Johnson, Kotz and Balakrishnan 1995,
 * Continuous Univariate Distributions 2, ch. 31, from memory).
 * @param share - above 0, below 1
 * @param degreesOfFreedom - above 0; infinite: normal about delta
 */
export function noncentralTQuantile(share: number, degreesOfFreedom: number, delta: number): number {
  const z = normal.quantile(share, 0, 1);
  if (degreesOfFreedom === Number.POSITIVE_INFINITY) return delta + z;
  const chance = noncentralTChance(degreesOfFreedom, delta);
  return solveIncreasing(chance, share, delta + z - 1, delta + z + 1);
}

/** Chance that a noncentral t is below a value, as a function of the value. */
function noncentralTChance(degreesOfFreedom: number, delta: number): (value: number) => number {
  // about its rise, at t sqrt(W / nu) = delta, Phi changes over 2 / delta in ln W
  const { ratios, weights } = chiSquareNodes(degreesOfFreedom, 2 / Math.abs(delta));
  const roots = ratios.map(Math.sqrt);
  return (value) => roots.reduce((sum, root, i) => sum + weights[i]! * normal.cdf(value * root, delta, 1), 0);
}
