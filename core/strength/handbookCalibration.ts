import {
  describeSpecies,
  INTERSECTION_SOURCE,
  POLE_STRENGTH_VARIATION,
  stemModulusRatio,
} from '../wood/index.ts';
import type { Calibration, KnownStrength, StrengthPredictors } from './calibration.ts';
import { fromLognormal } from './distribution/strengthDistribution.ts';
import { predictConditionalLognormal } from './predictConditionalLognormal.ts';

/**
 * Correlation of ln modulus and ln strength over poles of one species. Martins et al. 2017 report r = 0.45
 * (dynamic modulus) and 0.51 (frequency) with strength on new maritime-pine poles; for other species assumed.
 */
const MODULUS_STRENGTH_CORRELATION = 0.5;

const CORRELATION_SOURCE =
  'Martins, Dias, Marques and Dias 2017, Non-destructive methodologies for assessment of the mechanical ' +
  'properties of new utility poles, BioResources 12(2) 2269-2283, abstract: r = 0.45 (dynamic modulus) and 0.51 ' +
  '(frequency) with strength on new maritime-pine poles; assumed for other species';

/** Beyond this many standard deviations from its species' median a stem is unlike what the relation is for. */
const RANGE_SDS = 2.5;

/** Beyond, the strength of poles as sold says little of the poles in service (ours). */
const OLD_FROM_YEARS = 30;

/**
 * The calibration that serves before any break tests exist: species medians and variation from the Wood
 * Handbook, and one correlation between stiffness and strength. The stem's modulus is brought to green wood at
 * 21 degC, because wood at ground line is wet; strength is that of green wood.
 * It knows nothing of the root: a soft root is a finding, never a strength.
 */
export const handbookCalibration = {
  name: 'handbook',
  version: 1,
  followsModulus: true,
  source:
    'Medians: USDA Wood Handbook (FPL-GTR-190, FPL-GTR-282), Table 5-3a, clear wood, green; each species states how ' +
    `far its row was read. Strength variation: ${POLE_STRENGTH_VARIATION.source}. Correlation: ` +
    `${CORRELATION_SOURCE}. Moisture: ${INTERSECTION_SOURCE}.`,
  describe: () =>
    'Modulus of rupture of sound, wet wood at ground line from the stem modulus: lognormal with the species median ' +
    `of green clear wood, ${POLE_STRENGTH_VARIATION.value * 100} % variation between poles, and a correlation of ` +
    `${MODULUS_STRENGTH_CORRELATION} with the modulus. No break test stands behind it; the modulus narrows the ` +
    'interval by a seventh only, and local decay does not enter.',
  predictModulusOfRupture,
} satisfies Calibration;

function predictModulusOfRupture(predictors: StrengthPredictors): KnownStrength {
  const { species, modulusPa, moisturePercent, temperatureC } = predictors;
  const wood = describeSpecies(species);
  const ratio = stemModulusRatio(species, moisturePercent, temperatureC);
  const greenModulusPa = {
    median: modulusPa.median / ratio.median,
    logSd: Math.hypot(modulusPa.logSd, ratio.logSd),
  };
  return {
    modulusOfRupturePa: fromLognormal(
      predictConditionalLognormal(
        wood.modulusGreenPa,
        wood.modulusOfRuptureGreenPa,
        MODULUS_STRENGTH_CORRELATION,
        greenModulusPa,
      ),
    ),
    leverage: null,
    because: [],
    warnings: listWarnings(
      predictors,
      Math.log(greenModulusPa.median / wood.modulusGreenPa.median) / wood.modulusGreenPa.logSd,
    ),
  };
}

function listWarnings(
  { species, modulusPa, moisturePercent, ageYears, treatment }: StrengthPredictors,
  distanceSds: number,
): string[] {
  const warnings: string[] = [];
  if (species === 'other') {
    warnings.push('Species not named: strength is that of a wide mix of pole woods. Name the species.');
  }
  if (moisturePercent === null) {
    warnings.push('Moisture not measured: 25 % assumed with a wide spread (common practice, no source).');
  }
  if (ageYears === null || ageYears > OLD_FROM_YEARS) {
    warnings.push(
      `${ageYears === null ? 'Year of setting not stated' : `${ageYears} years in the ground`}: handbook strength and its spread are those of sound, new poles.`,
    );
  }
  if (treatment === null || /^(none|untreated|no)$/i.test(treatment.trim())) {
    warnings.push(
      'No preservative treatment is on record: decay is likelier than the spread of new poles allows for.',
    );
  }
  if (Math.abs(distanceSds) > RANGE_SDS) {
    const gigapascals = (modulusPa.median / 1e9).toFixed(1);
    const side = distanceSds > 0 ? 'above' : 'below';
    warnings.push(
      `Stem modulus of ${gigapascals} GPa is ${Math.abs(distanceSds).toFixed(1)} standard deviations ${side} the ` +
        'median of the species, outside of the range of this calibration. Check species, circumferences and modes.',
    );
  }
  return warnings;
}
