import type { Assessment } from './assessment.ts';
import { gatherPredictors, spreadOf } from './gatherPredictors.ts';
import { GROUNDLINE_GIRTH, SETTING_DEPTH, TIP_GIRTH } from './inference/index.ts';
import { isGroundLineInspected } from './isGroundLineInspected.ts';
import type { VisitFile } from './recording/index.ts';
import {
  type Calibration,
  calibrationLabel,
  compareWithRequirement,
  findRequiredModulus,
  findRequirement,
  medianOf,
  type PoleGeometry,
  predictCapacity,
} from './strength/index.ts';

/** What of a result strength follows from. */
export type StrengthEvidence = Pick<
  Assessment,
  'verdict' | 'withheldBecause' | 'withheldBy' | 'stem' | 'root' | 'modes' | 'priors'
>;

export type StrengthConclusion = Pick<
  Assessment,
  'verdict' | 'withheldBecause' | 'withheldBy' | 'strength' | 'requirement'
> & {
  /** Stem modulus at which the median capacity meets the requirement; null without one. */
  readonly requiredModulusPa: number | null;
};

/**
 * The last step of the chain: capacity by a calibration, and capacity against what is asked of the pole. It takes
 * stem and root as a result has them and changes neither, so that a stored result can be brought under another
 * calibration without its recordings. A result that the chain withheld has no strength under any; one that a calibration cannot speak
 * of is withheld under that one, and says so.
 */
export function concludeOnStrength(
  visit: VisitFile,
  evidence: StrengthEvidence,
  calibration: Calibration,
): StrengthConclusion {
  const { required, rule } = findRequirement(visit, geometryOf(evidence));
  const girth = evidence.priors.find(({ name }) => name === GROUNDLINE_GIRTH);
  const predictors = gatherPredictors(visit, evidence);
  const { verdict, withheldBecause, withheldBy } = evidence;
  const withoutStrength = {
    strength: null,
    requiredModulusPa: null,
    requirement: required && compareWithRequirement(null, required, rule),
  };
  if ((verdict !== 'assessed' && withheldBy !== 'calibration') || !predictors || !girth) {
    return { verdict, withheldBecause, withheldBy, ...withoutStrength };
  }
  const prediction = calibration.predictModulusOfRupture(predictors);
  const byCalibration = (because: string): StrengthConclusion => ({
    verdict: 'withheld',
    withheldBecause: `${calibrationLabel(calibration)}: ${because}`,
    withheldBy: 'calibration',
    ...withoutStrength,
  });
  if (prediction.modulusOfRupturePa === null) return byCalibration(prediction.withheldBecause);
  if (!(medianOf(prediction.modulusOfRupturePa) > 0)) {
    return byCalibration(
      'The calibration’s line falls to a strength of 0 or less at this pole: it is carried far beyond its tests.',
    );
  }
  const capacity = predictCapacity({
    modulusOfRupturePa: prediction.modulusOfRupturePa,
    leverage: prediction.leverage,
    groundlineCircumferenceM: girth.median,
    circumferenceLogSd: spreadOf(girth),
    shellThicknessM: visit.measured.shellThicknessM,
  });
  return {
    verdict: 'assessed',
    withheldBecause: null,
    withheldBy: null,
    strength: {
      calibration: calibrationLabel(calibration),
      modulusOfRupturePa: capacity.modulusOfRupturePa,
      sectionModulusM3: capacity.sectionModulusM3,
      groundlineMomentNm: capacity.groundlineMomentNm,
      lower5PercentNm: capacity.lower5PercentNm,
      tolerance: capacity.tolerance,
      assumes: isGroundLineInspected(visit)
        ? 'Sound wood in the bored shell at ground line.'
        : 'Sound wood at ground line: the section there was not inspected.',
      because: [...prediction.because],
      warnings: [...prediction.warnings],
    },
    requirement: required && compareWithRequirement(capacity.moment, required, rule),
    requiredModulusPa:
      required &&
      findRequiredModulus(calibration, predictors, capacity.sectionModulusM3, required.groundlineMomentNm),
  };
}

/** Geometry that the result was computed with; null in one that does not state it. */
function geometryOf({ priors }: StrengthEvidence): PoleGeometry | null {
  const medianOf = (name: string) => priors.find((prior) => prior.name === name)?.median;
  const settingDepthM = medianOf(SETTING_DEPTH);
  const groundlineGirthM = medianOf(GROUNDLINE_GIRTH);
  const tipGirthM = medianOf(TIP_GIRTH);
  if (settingDepthM === undefined || groundlineGirthM === undefined || tipGirthM === undefined) return null;
  return { settingDepthM, groundlineGirthM, tipGirthM };
}
