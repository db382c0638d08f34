import type { Lognormal } from '../wood/index.ts';

/**
 * Predicts y of one specimen from an uncertain x, where ln x and ln y are bivariate normal over specimens:
 * E ln y = mu_y + r (s_y / s_x) (E ln x - mu_x), var ln y = s_y^2 (1 - r^2) + (r s_y / s_x)^2 var ln x.
 * @param measured - x of this specimen; its uncertainty already holds what is known of the population
 * @param correlation - r between ln x and ln y, from -1 to 1
 * Source: conditional distribution of the bivariate normal, integrated over a normal ln x; any textbook.
 */
export function predictConditionalLognormal(
  x: Lognormal,
  y: Lognormal,
  correlation: number,
  measured: Lognormal,
): Lognormal {
  const slope = (correlation * y.logSd) / x.logSd;
  return {
    median: y.median * (measured.median / x.median) ** slope,
    logSd: Math.hypot(y.logSd * Math.sqrt(1 - correlation ** 2), slope * measured.logSd),
  };
}
