import type { Lognormal } from '../../wood/index.ts';

/**
 * What is known of a strength or capacity, with its tails. On its scale (`log`: natural logarithm of the quantity;
 * `linear`: the quantity itself) it is centre + normalSd Z + studentScale T, with Z standard normal and T Student's t, independent
 * of each other. Z holds errors whose size is known; T holds what was estimated from few tests, so that its
 * tails are as heavy as the tests were few.
 */
export type StrengthDistribution = {
  readonly scale: 'log' | 'linear';
  /** Median, on the scale. */
  readonly centre: number;
  readonly normalSd: number;
  readonly studentScale: number;
  /** Of T; infinite where studentScale is 0. */
  readonly degreesOfFreedom: number;
};

/** A lognormal quantity as a strength distribution. */
export function fromLognormal({ median, logSd }: Lognormal): StrengthDistribution {
  return {
    scale: 'log',
    centre: Math.log(median),
    normalSd: logSd,
    studentScale: 0,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
  };
}

/** Median of a distribution, in the unit of the quantity. */
export function medianOf({ scale, centre }: StrengthDistribution): number {
  return scale === 'log' ? Math.exp(centre) : centre;
}

/**
 * Multiplies a distribution by an independent lognormal factor, for instance a section modulus. Exact on the log scale;
 * on the linear scale the factor's spread enters to first order, at the median: a relative error of the order of logSd squared.
 */
export function multiplyDistribution(
  distribution: StrengthDistribution,
  { median, logSd }: Lognormal,
): StrengthDistribution {
  const { scale, centre, normalSd, studentScale } = distribution;
  if (scale === 'log') {
    return { ...distribution, centre: centre + Math.log(median), normalSd: Math.hypot(normalSd, logSd) };
  }
  return {
    ...distribution,
    centre: centre * median,
    normalSd: median * Math.hypot(normalSd, centre * logSd),
    studentScale: studentScale * median,
  };
}
