import type { Assessment } from './assessment.ts';
import { GROUNDLINE_GIRTH, SETTING_DEPTH, STEM_MODULUS, TIP_GIRTH } from './inference/index.ts';
import type { VisitFile } from './recording/index.ts';
import {
  type Calibration,
  calibrationLabel,
  compareWithRequirement,
  findRequiredModulus,
  findRequirement,
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

type Prior = Assessment['priors'][number];

/** Half of a 90 % interval of a normal quantity, in standard deviations. */
const Z_OF_90_PERCENT = 1.6449;

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
  const prior = (name: string) => evidence.priors.find((candidate) => candidate.name === name);
  const { required, rule } = findRequirement(visit, geometryOf(evidence));
  const { stem } = evidence;
  const girth = prior(GROUNDLINE_GIRTH);
  const { verdict, withheldBecause, withheldBy } = evidence;
  const withoutStrength = {
    strength: null,
    requiredModulusPa: null,
    requirement: required && compareWithRequirement(null, required, rule),
  };
  if ((verdict !== 'assessed' && withheldBy !== 'calibration') || !stem || !girth) {
    return { verdict, withheldBecause, withheldBy, ...withoutStrength };
  }
  const settingDepthM = prior(SETTING_DEPTH)?.median;
  const predictors = {
    species: visit.pole.species,
    densityKgPerM3: stem.densityKgPerM3.value,
    frequenciesHz: meanFrequencies(evidence.modes),
    isBare: visit.measured.cables.length === 0 && visit.measured.attachments.length === 0,
    stemLengthM: settingDepthM === undefined ? null : visit.pole.lengthM - settingDepthM,
    circumferenceM: girth.median,
    fixity: evidence.root?.fixity.value ?? null,
    moisturePercent: visit.measured.moisturePercent ?? null,
    temperatureC: visit.measured.temperatureC ?? null,
    ageYears:
      visit.pole.setYear == null ? null : Number(visit.measured.date.slice(0, 4)) - visit.pole.setYear,
    treatment: visit.pole.treatment ?? null,
  };
  const modulusPrior = prior(STEM_MODULUS);
  const prediction = calibration.predictModulusOfRupture({
    ...predictors,
    modulusPa: modulusOf(stem),
    modulusPriorPa: modulusPrior ? { median: modulusPrior.median, logSd: logSdOf(modulusPrior) } : null,
  });
  if (prediction.modulusOfRupturePa === null) {
    return {
      verdict: 'withheld',
      withheldBecause: `${calibrationLabel(calibration)}: ${prediction.withheldBecause}`,
      withheldBy: 'calibration',
      ...withoutStrength,
    };
  }
  const capacity = predictCapacity({
    modulusOfRupturePa: prediction.modulusOfRupturePa,
    leverage: prediction.leverage,
    groundlineCircumferenceM: girth.median,
    circumferenceLogSd: logSdOf(girth),
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
      assumes:
        visit.measured.shellThicknessM == null
          ? 'Sound wood at ground line: the section there was not inspected.'
          : 'Sound wood in the bored shell at ground line.',
      because: [...prediction.because],
      warnings: [...prediction.warnings],
    },
    requirement: required && compareWithRequirement(capacity.moment, required, rule),
    requiredModulusPa:
      required &&
      findRequiredModulus(calibration, predictors, capacity.sectionModulusM3, required.groundlineMomentNm),
  };
}

/** Of ln E: as the result has it; of results of earlier programs from the interval. */
function modulusOf({ lnModulus, modulusPa }: NonNullable<Assessment['stem']>) {
  return lnModulus
    ? { median: Math.exp(lnModulus.mean), logSd: lnModulus.sd }
    : { median: modulusPa.value, logSd: logSdOf(modulusPa) };
}

function logSdOf(quantity: { low: number; high: number; spread?: Prior['spread'] }): number {
  const { low, high, spread } = quantity;
  if (spread?.of === 'ln') return spread.sd;
  return Math.log(high / low) / (2 * Z_OF_90_PERCENT);
}

/** Frequencies of modes 1 to 3, each the geometric mean over the planes; null where a mode was not seen. */
function meanFrequencies(modes: StrengthEvidence['modes']): (number | null)[] {
  return [1, 2, 3].map((number) => {
    const logs = modes
      .filter((mode) => mode.number === number)
      .map((mode) => Math.log(mode.frequencyHz.value));
    return logs.length === 0 ? null : Math.exp(logs.reduce((sum, log) => sum + log, 0) / logs.length);
  });
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
