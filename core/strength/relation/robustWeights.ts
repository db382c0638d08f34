import { type LeastSquares, type LinearModel, leastSquares } from './leastSquares.ts';

/**
 * Tuning constants that give 95 % of the efficiency of least squares where errors are normal: Huber 1.345, bisquare 4.685
 * (Holland and Welsch 1977, Commun. Stat. A6:813).
 */
const HUBER = 1.345;
const BISQUARE = 4.685;
/** Median of |Z|: the median absolute deviation over it estimates the standard deviation of normal errors. */
const NORMAL_MEDIAN_ABSOLUTE = 0.6744897501960817;
const MOST_ITERATIONS = 200;
/** Change of residuals, root mean square over that of the residuals, at which iteration ends. */
const SETTLED = 1e-10;

/** A psi function as its weight psi(u)/u and its slope. */
type Psi = { readonly weight: (u: number) => number; readonly slope: (u: number) => number };

export const huberPsi: Psi = {
  weight: (u) => Math.min(1, HUBER / Math.abs(u)),
  slope: (u) => (Math.abs(u) <= HUBER ? 1 : 0),
};

export const bisquarePsi: Psi = {
  weight: (u) => (Math.abs(u) < BISQUARE ? (1 - (u / BISQUARE) ** 2) ** 2 : 0),
  slope: (u) => {
    const square = (u / BISQUARE) ** 2;
    return square < 1 ? (1 - square) * (1 - 5 * square) : 0;
  },
};

export type RobustFit = LeastSquares & {
  /** From 0, a test that counts for nothing, to 1. */
  readonly weights: readonly number[];
  /** Median absolute deviation of the residuals over 0.6745. */
  readonly spread: number;
  /** Standard deviation that stands for one pole, and with (X^T X)^-1 for the coefficients. */
  readonly residualScale: number;
  readonly converged: boolean;
  readonly iterations: number;
};

/**
 * Fits by M-estimation, iterated weights from a start: psi(r / s) in place of r, s the median absolute deviation of the
 * residuals over 0.6745, anew each time. The scale is that of Huber's asymptotic covariance with his correction for few tests,
 * K sqrt(sum psi^2 s^2 / (n - p)) / mean psi', K = 1 + p/n var(psi') / mean(psi')^2 (Huber 1981, Robust Statistics, eq. 7.6.5, from
 * memory; as MASS::rlm does): of normal errors it is the standard deviation and 2.5 % more.
 */
export function fitRobust(
  model: LinearModel,
  psi: Psi,
  start: LeastSquares = leastSquares(model),
): RobustFit {
  const rows = model.response.length;
  const freedom = rows - model.terms.length;
  let fit = start;
  let weights: number[] = [];
  let spread = 0;
  let converged = false;
  let iterations = 0;
  while (!converged && iterations < MOST_ITERATIONS) {
    spread = medianOf(fit.residuals.map(Math.abs)) / NORMAL_MEDIAN_ABSOLUTE;
    if (spread === 0) {
      converged = true;
      weights = fit.residuals.map((r) => (r === 0 ? 1 : 0));
      break;
    }
    weights = fit.residuals.map((r) => psi.weight(r / spread));
    const next = leastSquares({ ...model, weights });
    const change = Math.hypot(...next.residuals.map((r, i) => r - fit.residuals[i]!));
    converged = change <= SETTLED * Math.hypot(...fit.residuals);
    fit = next;
    iterations++;
  }
  const scaled = fit.residuals.map((r) => (spread === 0 ? 0 : r / spread));
  const slopes = scaled.map(psi.slope);
  const meanSlope = slopes.reduce((sum, value) => sum + value, 0) / rows;
  const slopeVariance = slopes.reduce((sum, value) => sum + (value - meanSlope) ** 2, 0) / (rows - 1);
  const correction = 1 + (model.terms.length / rows) * (slopeVariance / meanSlope ** 2);
  const psiSquares = scaled.reduce((sum, u) => sum + (u * psi.weight(u)) ** 2, 0);
  return {
    ...fit,
    weights,
    spread,
    residualScale: (correction * spread * Math.sqrt(psiSquares / freedom)) / meanSlope,
    unscaledCovariance: start.unscaledCovariance,
    converged,
    iterations,
  };
}

function medianOf(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length / 2;
  return (sorted[Math.ceil(middle) - 1]! + sorted[Math.floor(middle)]!) / 2;
}
