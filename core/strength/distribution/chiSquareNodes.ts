/** Nodes of W / nu and the probability that each stands for. */
export type ChiSquareNodes = { readonly ratios: Float64Array; readonly weights: Float64Array };

/** Parts of the density below this share of its peak are left out. */
const LEAST_SHARE = 1e-13;
/** Step in v: this share of the standard deviation of v and of the width of what is averaged, and never more than this. */
const STEP_SHARE = 0.5;
const GREATEST_STEP = 0.25;

/**
 * Places nodes for expectations over W / nu, W chi-square with nu degrees of freedom: the trapezoidal rule in
 * v = ln(W / nu), whose density exp(nu/2 (v - e^v)) is analytic and falls off on both sides, so that the error of the rule
 * shrinks exponentially with the step (Trefethen and Weideman 2014, SIAM Review 56:385). Some 30 to 300 nodes.
 * @param degreesOfFreedom - nu, above 0, finite
 * @param width - standard deviation, in v, of the steepest rise of what is averaged. @default wide
 */
export function chiSquareNodes(degreesOfFreedom: number, width = Number.POSITIVE_INFINITY): ChiSquareNodes {
  const half = degreesOfFreedom / 2;
  const logDensity = (v: number) => half * (v - Math.expm1(v));
  const step = Math.min(GREATEST_STEP, STEP_SHARE * Math.min(width, Math.sqrt(2 / degreesOfFreedom)));
  const least = Math.log(LEAST_SHARE);
  const below: number[] = [];
  for (let v = -step; logDensity(v) > least; v -= step) below.push(v);
  const above: number[] = [];
  for (let v = 0; logDensity(v) > least; v += step) above.push(v);
  const points = [...below.reverse(), ...above];
  const densities = points.map((v) => Math.exp(logDensity(v)));
  const total = densities.reduce((sum, density) => sum + density, 0);
  return {
    ratios: Float64Array.from(points, Math.exp),
    weights: Float64Array.from(densities, (density) => density / total),
  };
}
