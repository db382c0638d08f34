import type { Estimate } from '../assessment.ts';
import type { Lognormal } from '../wood/index.ts';
import { lognormalEstimate } from './lognormalEstimate.ts';
import { sectionModulus } from './sectionModulus.ts';

export type CapacityInputs = {
  /** Of sound wood at ground line, in Pa. */
  readonly modulusOfRupturePa: Lognormal;
  /** Outer, of sound wood, in m. */
  readonly groundlineCircumferenceM: number;
  /** Standard deviation of the logarithm of the circumference: measured at ground line, or carried down by taper. */
  readonly circumferenceLogSd: number;
  /** Least sound shell from boring, in m; null or absent: solid. */
  readonly shellThicknessM?: number | null | undefined;
};

export type Capacity = {
  readonly sectionModulusM3: number;
  readonly modulusOfRupturePa: Estimate;
  /** The bending capacity as a distribution, in N m. */
  readonly moment: Lognormal;
  readonly groundlineMomentNm: Estimate;
  /** One pole in twenty of this prediction is weaker, in N m. */
  readonly lower5PercentNm: number;
};

/**
 * Predicts the bending capacity at ground line: modulus of rupture times section modulus, both lognormal.
 * Assumes sound wood over the whole section, or over the shell: local decay that nobody measured is not in it,
 * and a caution must say so wherever it is shown.
 * @throws InputError from {@link sectionModulus}
 */
export function predictCapacity(inputs: CapacityInputs): Capacity {
  const { modulusOfRupturePa, groundlineCircumferenceM, circumferenceLogSd, shellThicknessM = null } = inputs;
  const { sectionModulusM3, logSlope } = sectionModulus(groundlineCircumferenceM, shellThicknessM);
  const moment: Lognormal = {
    median: modulusOfRupturePa.median * sectionModulusM3,
    logSd: Math.hypot(modulusOfRupturePa.logSd, logSlope * circumferenceLogSd),
  };
  const groundlineMomentNm = lognormalEstimate(moment);
  return {
    sectionModulusM3,
    modulusOfRupturePa: lognormalEstimate(modulusOfRupturePa),
    moment,
    groundlineMomentNm,
    lower5PercentNm: groundlineMomentNm.low,
  };
}
