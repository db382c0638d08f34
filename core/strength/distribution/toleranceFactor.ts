import normal from '@stdlib/stats-base-dists-normal';
import { noncentralTQuantile } from './noncentralT.ts';

export type ToleranceOptions = {
  /** Share of poles that is to be above the limit. @default 0.95 */
  readonly content?: number;
  /** Chance, over repeated series of tests, that the limit keeps this promise. @default 0.75 */
  readonly confidence?: number;
};

/** The lower 5 % value of timber is commonly stated with this confidence: EN 14358 (from memory). */
export const TOLERANCE_CONTENT = 0.95;
export const TOLERANCE_CONFIDENCE = 0.75;

/**
 * Computes the factor k of a one-sided tolerance limit, estimate - k s: with the asked confidence at least the asked share of poles
 * is stronger. k = sqrt(h) t'(confidence; nu, z_content sqrt(1 + extra) / sqrt(h)), t' the quantile of the noncentral t
 * distribution (Owen 1968, Technometrics 10:445, from memory; for a relation with h in place of 1/n).
 * @param leverage - h, variance of the estimate over that of one pole: 1/n for a mean of n
 * @param degreesOfFreedom - nu of the residual deviation s
 * @param extraVariance - known variance between poles besides s^2, over s^2; its ratio is taken as exact. @default 0
 */
export function toleranceFactor(
  leverage: number,
  degreesOfFreedom: number,
  { content = TOLERANCE_CONTENT, confidence = TOLERANCE_CONFIDENCE }: ToleranceOptions = {},
  extraVariance = 0,
): number {
  const reach = normal.quantile(content, 0, 1) * Math.sqrt(1 + extraVariance);
  const root = Math.sqrt(leverage);
  return root * noncentralTQuantile(confidence, degreesOfFreedom, reach / root);
}
