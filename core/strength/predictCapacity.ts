import type { Estimate } from '../assessment.ts';
import { estimateOf } from './distribution/estimateOf.ts';
import { lowerTolerance } from './distribution/lowerTolerance.ts';
import { multiplyDistribution, type StrengthDistribution } from './distribution/strengthDistribution.ts';
import { TOLERANCE_CONFIDENCE, TOLERANCE_CONTENT } from './distribution/toleranceFactor.ts';
import { sectionModulus } from './sectionModulus.ts';

export type CapacityInputs = {
  /** Of sound wood at ground line, in Pa. */
  readonly modulusOfRupturePa: StrengthDistribution;
  /** Of the relation behind it at this pole; null where no tests stand behind it. */
  readonly leverage: number | null;
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
  /** The bending capacity as a distribution, in N·m. */
  readonly moment: StrengthDistribution;
  readonly groundlineMomentNm: Estimate;
  /** One pole in twenty of this prediction is weaker, in N·m. */
  readonly lower5PercentNm: number;
  /** Limit that the asked share of poles like this one exceeds, with the asked confidence; null without tests. */
  readonly tolerance: {
    readonly content: number;
    readonly confidence: number;
    readonly groundlineMomentNm: number;
  } | null;
};

/**
 * Predicts the bending capacity at ground line: modulus of rupture times section modulus, that one lognormal.
 * Assumes sound wood over the whole section, or over the shell: local decay that nobody measured is not in it,
 * and a caution must say so wherever it is shown.
 * @throws InputError from {@link sectionModulus}
 */
export function predictCapacity(inputs: CapacityInputs): Capacity {
  const {
    modulusOfRupturePa,
    leverage,
    groundlineCircumferenceM,
    circumferenceLogSd,
    shellThicknessM = null,
  } = inputs;
  const { sectionModulusM3, logSlope } = sectionModulus(groundlineCircumferenceM, shellThicknessM);
  const moment = multiplyDistribution(modulusOfRupturePa, {
    median: sectionModulusM3,
    logSd: logSlope * circumferenceLogSd,
  });
  const groundlineMomentNm = estimateOf(moment);
  return {
    sectionModulusM3,
    modulusOfRupturePa: estimateOf(modulusOfRupturePa),
    moment,
    groundlineMomentNm,
    lower5PercentNm: groundlineMomentNm.low,
    tolerance:
      leverage === null
        ? null
        : {
            content: TOLERANCE_CONTENT,
            confidence: TOLERANCE_CONFIDENCE,
            groundlineMomentNm: lowerTolerance(moment, leverage),
          },
  };
}
