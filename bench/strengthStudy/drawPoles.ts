import type { BreakTestRow } from '../../core/strength/index.ts';
import { parkMiller } from '../../core/strength/price/parkMiller.ts';
import type { StudyCase } from './listCases.ts';

/** Medians near those of handbook pole woods; slope and scatters give a correlation of 0.62 between ln E and ln strength (ours). */
const MEDIAN_MODULUS_PA = 11e9;
const MEDIAN_STRENGTH_PA = 45e6;
const SLOPE = 0.6;
const POLE_SD = 0.2;
const SCATTER_SD = 0.15;
/** Between species, of ln E and of ln strength at the same E (ours). */
const SPECIES_MODULUS_SD = 0.15;
const SPECIES_STRENGTH_SD = 0.12;
/** Species k of K is drawn by floor(K u^1.5): the first is met about three times as often as the last of six. */
const SPECIES_SKEW = 1.5;
/** A tape round a pole that is not round: thrice this of the capacity is not known. */
export const CIRCUMFERENCE_LOG_SD = 0.01;
const CIRCUMFERENCE_M = 0.9;

const SPECIES: readonly BreakTestRow['species'][] = [
  'southern-pine',
  'douglas-fir',
  'western-redcedar',
  'lodgepole-pine',
  'red-pine',
  'ponderosa-pine',
];

const SEED_STEP = 7_919_777;

export type DrawnPole = {
  readonly row: BreakTestRow;
  /** As taped; the row's is true, since a broken pole is measured with care. */
  readonly tapedCircumferenceM: number;
};

/** Standard normal draws by Box and Muller. */
export function normalDraws(seed: number): { normal: () => number; uniform: () => number } {
  // small seeds begin alike: far apart on the stream they do not
  const draw = parkMiller(SEED_STEP * seed);
  const uniform = () => draw() / 2 ** 31;
  return { uniform, normal: () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform()) };
}

/** Draws a series of tests and one further pole of the same kind. */
export function drawSeries(
  study: StudyCase,
  count: number,
  { normal, uniform }: ReturnType<typeof normalDraws>,
): { tests: BreakTestRow[]; pole: DrawnPole } {
  const levels = Array.from({ length: study.species }, () => ({
    modulus: study.species > 1 ? SPECIES_MODULUS_SD * normal() : 0,
    strength: study.species > 1 ? SPECIES_STRENGTH_SD * normal() : 0,
  }));
  const drawPole = (id: string, errorSd: number): DrawnPole => {
    const group = Math.floor(study.species * uniform() ** SPECIES_SKEW);
    const x = levels[group]!.modulus + POLE_SD * normal();
    const shift = levels[group]!.strength + SCATTER_SD * normal();
    const strengthPa =
      study.spec.form === 'linear'
        ? MEDIAN_STRENGTH_PA * (1 + SLOPE * Math.expm1(x) + shift)
        : MEDIAN_STRENGTH_PA * Math.exp(SLOPE * x + shift);
    return {
      row: {
        id,
        poleId: id,
        species: SPECIES[group]!,
        treatment: null,
        modulusPa: MEDIAN_MODULUS_PA * Math.exp(x + errorSd * normal()),
        modulusLogSd: errorSd,
        densityKgPerM3: null,
        frequenciesHz: [null, null, null],
        stemLengthM: null,
        circumferenceM: CIRCUMFERENCE_M,
        fixity: null,
        ageYears: null,
        moisturePercent: null,
        weight: null,
        piece: 'pole',
        modulusOfRupturePa: strengthPa,
        groundlineMomentNm: (strengthPa * CIRCUMFERENCE_M ** 3) / (32 * Math.PI ** 2),
      },
      tapedCircumferenceM: CIRCUMFERENCE_M * Math.exp(CIRCUMFERENCE_LOG_SD * normal()),
    };
  };
  return {
    tests: Array.from(
      { length: count },
      (_, i) => drawPole(`T${i}`, study.testErrorSds[i % study.testErrorSds.length]!).row,
    ),
    pole: drawPole('new', study.poleErrorSd),
  };
}

/** What ln strength is like among poles of one species with this measured modulus: normal, by the law that poles are drawn by. */
export function measuredStrength(modulusPa: number, errorSd: number): { mean: number; sd: number } {
  const share = POLE_SD ** 2 / (POLE_SD ** 2 + errorSd ** 2);
  return {
    mean: Math.log(MEDIAN_STRENGTH_PA) + SLOPE * share * Math.log(modulusPa / MEDIAN_MODULUS_PA),
    sd: Math.sqrt(SCATTER_SD ** 2 + SLOPE ** 2 * POLE_SD ** 2 * (1 - share)),
  };
}
