import type { Assessment } from './assessment.ts';
import { DENSITY, GROUNDLINE_GIRTH, SETTING_DEPTH, STEM_MODULUS } from './inference/index.ts';
import { Z_OF_90_PERCENT } from './ninetyPercent.ts';
import type { VisitFile } from './recording/index.ts';
import type { StrengthPredictors } from './strength/index.ts';

type Prior = Assessment['priors'][number];

/**
 * Gathers from a visit and its result what a calibration may predict from. Frequencies are as measured, cables and
 * equipment on the pole; `isBare` says whether there are any.
 * @returns null without a stem, or where the result does not state the girth that it was computed with
 */
export function gatherPredictors(
  { pole, measured }: VisitFile,
  { stem, root, modes, priors }: Pick<Assessment, 'stem' | 'root' | 'modes' | 'priors'>,
): StrengthPredictors | null {
  const prior = (name: string) => priors.find((candidate) => candidate.name === name);
  const girth = prior(GROUNDLINE_GIRTH);
  if (!stem || !girth) return null;
  const settingDepthM = prior(SETTING_DEPTH)?.median;
  const modulus = prior(STEM_MODULUS);
  return {
    species: pole.species,
    modulusPa: modulusOf(stem),
    modulusPriorPa: modulus
      ? { median: modulus.median, logSd: spreadOf(modulus), isSetByHand: modulus.isGiven ?? false }
      : null,
    // that of the result is the species' where nobody weighed a core: not known of this pole; nor is one set by hand, which the
    // modulus goes with
    densityKgPerM3: prior(DENSITY)?.isGiven ? null : (measured.densityKgPerM3 ?? null),
    frequenciesHz: meanFrequencies(modes),
    isBare: measured.cables.length === 0 && measured.attachments.length === 0,
    stemLengthM: settingDepthM === undefined ? null : pole.lengthM - settingDepthM,
    circumferenceM: girth.median,
    fixity: root?.fixity.value ?? null,
    moisturePercent: measured.moisturePercent ?? null,
    temperatureC: measured.temperatureC ?? null,
    ageYears: pole.setYear == null ? null : Number(measured.date.slice(0, 4)) - pole.setYear,
    treatment: pole.treatment ?? null,
  };
}

/** Of ln E: as the result has it; of results of earlier programs from the interval. */
function modulusOf({ lnModulus, modulusPa }: NonNullable<Assessment['stem']>) {
  return lnModulus
    ? { median: Math.exp(lnModulus.mean), logSd: lnModulus.sd }
    : { median: modulusPa.value, logSd: spreadOf(modulusPa) };
}

/** Standard deviation of the logarithm of a quantity: as it is stated; of results of earlier programs from the 90 % interval. */
export function spreadOf(quantity: { low: number; high: number; spread?: Prior['spread'] }): number {
  const { low, high, spread } = quantity;
  if (spread?.of === 'ln') return spread.sd;
  return Math.log(high / low) / (2 * Z_OF_90_PERCENT);
}

/** Frequencies of modes 1 to 3, each the geometric mean over the planes; null where a mode was not seen. */
function meanFrequencies(modes: Assessment['modes']): (number | null)[] {
  return [1, 2, 3].map((number) => {
    const logs = modes
      .filter((mode) => mode.number === number)
      .map((mode) => Math.log(mode.frequencyHz.value));
    return logs.length === 0 ? null : Math.exp(logs.reduce((sum, log) => sum + log, 0) / logs.length);
  });
}
