import { type LeastSquares, type LinearModel, leastSquares } from './leastSquares.ts';
import { median } from './median.ts';

/** Residuals beyond this many spreads pull no harder: 95 % of the efficiency of least squares where errors are normal (Huber 1964; 1981, Robust Statistics). */
const HUBER = 1.345;
/** Median of |Z|: the median absolute residual over it estimates the standard deviation of normal errors. */
const NORMAL_MEDIAN_ABSOLUTE = 0.6744897501960817;
const MOST_ITERATIONS = 200;
/** Change of residuals over the residuals, root mean squares, at which iteration ends. */
const SETTLED = 1e-10;

export type RobustFit = LeastSquares & {
  /** From 0, a test that counts for nothing, to 1. */
  readonly weights: readonly number[];
  /** Median absolute residual over 0.6745. */
  readonly spread: number;
  /** Standard deviation that stands for one pole, and with (X^T X)^-1 for the coefficients. */
  readonly residualScale: number;
  readonly converged: boolean;
  readonly iterations: number;
};

/**
 * Fits by Huber's M-estimation: least squares iterated with weights min(1, 1.345 s / |r|), s the median absolute residual over 0.6745,
 * anew each time. The scale is that of the asymptotic covariance with Huber's correction for few tests,
 * K sqrt(sum psi^2 s^2 / (n - p)) / mean psi', K = 1 + p/n var(psi') / mean(psi')^2 (Huber 1981, Robust Statistics, eq. 7.6.5, from
 * memory; as MASS::rlm does): of normal errors it is the standard deviation and 2.5 % more.
 */
export function fitRobust(model: LinearModel): RobustFit {
  const rows = model.response.length;
  const freedom = rows - model.terms.length;
  const { unscaledCovariance, ...ordinary } = leastSquares(model);
  let fit: Omit<LeastSquares, 'unscaledCovariance'> = ordinary;
  let weights = model.response.map(() => 1);
  let spread = 0;
  let converged = false;
  let iterations = 0;
  while (!converged && iterations < MOST_ITERATIONS) {
    spread = median(fit.residuals.map(Math.abs)) / NORMAL_MEDIAN_ABSOLUTE;
    // half of the tests on the relation, to the last digit: nothing to weigh by
    if (spread === 0) break;
    weights = fit.residuals.map((r) => Math.min(1, (HUBER * spread) / Math.abs(r)));
    const next = leastSquares({ ...model, weights });
    const change = Math.hypot(...next.residuals.map((r, i) => r - fit.residuals[i]!));
    converged = change <= SETTLED * Math.hypot(...fit.residuals);
    fit = next;
    iterations++;
  }
  return {
    ...fit,
    weights,
    spread,
    residualScale: scaleOf(fit.residuals, spread, model.terms.length, freedom),
    unscaledCovariance,
    converged,
    iterations,
  };
}

function scaleOf(residuals: readonly number[], spread: number, terms: number, freedom: number): number {
  const rows = residuals.length;
  const slopes = residuals.map((r): number => (Math.abs(r) <= HUBER * spread ? 1 : 0));
  const meanSlope = slopes.reduce((sum, slope) => sum + slope, 0) / rows;
  const slopeVariance = slopes.reduce((sum, slope) => sum + (slope - meanSlope) ** 2, 0) / (rows - 1);
  const correction = 1 + (terms / rows) * (slopeVariance / meanSlope ** 2);
  const squares = residuals.reduce((sum, r) => sum + Math.min(r ** 2, (HUBER * spread) ** 2), 0);
  return (correction * Math.sqrt(squares / freedom)) / meanSlope;
}
