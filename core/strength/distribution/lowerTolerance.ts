import type { StrengthDistribution } from './strengthDistribution.ts';
import { type ToleranceOptions, toleranceFactor } from './toleranceFactor.ts';

/**
 * Computes a one-sided lower tolerance limit, in the unit of the quantity and not below 0: with the asked confidence, over repeated
 * series of tests, at least the asked share of poles like this one is stronger.
 * @param distribution - prediction for one pole; its Student part is s sqrt(1 + leverage)
 * @param leverage - variance of the estimate over that of one pole
 */
export function lowerTolerance(
  distribution: StrengthDistribution,
  leverage: number,
  options: ToleranceOptions = {},
): number {
  const { scale, centre, normalSd, studentScale, degreesOfFreedom } = distribution;
  const residualScale = studentScale / Math.sqrt(1 + leverage);
  const extra = (normalSd / residualScale) ** 2;
  const limit = centre - residualScale * toleranceFactor(leverage, degreesOfFreedom, options, extra);
  return scale === 'log' ? Math.exp(limit) : Math.max(0, limit);
}
