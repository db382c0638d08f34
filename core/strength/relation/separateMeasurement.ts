import type { Lognormal } from '../../wood/index.ts';

/**
 * Separates what was measured of a quantity from what was known of it before: posterior = prior x measurement, all normal in
 * the logarithm, so that precisions add. The spread is infinite where the measurement told nothing.
 * @param posterior - prior and measurement together, as an assessment states its modulus
 * @param prior - null: the posterior is a measurement already
 * Source: normal posterior of a normal mean, any textbook.
 */
export function separateMeasurement(posterior: Lognormal, prior: Lognormal | null): Lognormal {
  if (prior === null || posterior.logSd === 0) return posterior;
  const precision = posterior.logSd ** -2 - prior.logSd ** -2;
  if (precision <= 0) return { median: posterior.median, logSd: Number.POSITIVE_INFINITY };
  const moved = (Math.log(posterior.median / prior.median) * posterior.logSd ** -2) / precision;
  return { median: prior.median * Math.exp(moved), logSd: precision ** -0.5 };
}
