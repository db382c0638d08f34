import type { BeamValues, FieldEnergies } from '../beam/index.ts';

/**
 * How real poles depart from the model's: what no measurement of a visit tells, at one standard deviation. All are ours,
 * questioned first where residuals of real poles are at hand.
 */

/**
 * Stem stiffness E I varies along the pole about its mean as sum_k s/k cos(k pi s), s from 0 at the butt to 1 at the
 * tip: from butt to tip by some 11 % of it, in shorter waves by less. 5 % of modulus (knots, juvenile core and moisture
 * differ along a stem) and 0.6 % of girth beside a straight taper.
 */
const STIFFNESS_WAVE_SD = 0.055;
/** Mass along the pole likewise: 2 % of density, moisture and preservative included, and 0.6 % of girth. */
const MASS_WAVE_SD = 0.023;
const WAVES = [1, 2, 3];
/** A plane's mean diameter against that of the other: ovality, 1 %. I goes with its square, at the same area. */
const OVALITY_SD = 0.01;
const OVALITY_POWER = 2;
/** Soil on the two sides of a plane against the mean all round: backfill is tamped by hand. Moves f1 by about 1 %. */
const SIDE_OF_SOIL_LOG_SD = 0.05;

/** What is left of one mode in both planes, by mode number: waves shorter than three to a pole, knots, checks. */
export const MODE_LOG_SD: readonly number[] = [0.003, 0.003, 0.003, 0.006];
/** What is left of one mode in one plane. */
export const MODE_IN_PLANE_LOG_SD = 0.003;

const RATIO_STEP = 0.01;

/** A departure of one plane, as changed values by so many standard deviations. */
type PlaneDeparture = {
  readonly name: string;
  readonly stepSd: number;
  readonly values: (values: BeamValues) => BeamValues;
};

/** Departures that each plane has of its own. */
export const PLANE_DEPARTURES: readonly PlaneDeparture[] = [
  {
    name: 'ovality',
    stepSd: RATIO_STEP / (OVALITY_POWER * OVALITY_SD),
    values: (v) => ({ ...v, modulusPa: v.modulusPa * (1 + RATIO_STEP) }),
  },
  {
    name: 'soil on its sides',
    stepSd: RATIO_STEP / SIDE_OF_SOIL_LOG_SD,
    values: (v) => ({ ...v, rootStiffness: v.rootStiffness * (1 + RATIO_STEP) }),
  },
];

/** Waves along a pole from butt to tip, as fields of height above ground line. */
export function listWaves(lengthM: number, settingDepthM: number): ((heightM: number) => number)[] {
  return WAVES.map((k) => (heightM) => Math.cos((k * Math.PI * (heightM + settingDepthM)) / lengthM));
}

/** Names of what waves do, in the order of {@link effectsOfWaves}. */
export const WAVE_NAMES: readonly string[] = ['stiffness', 'mass'].flatMap((what) =>
  WAVES.map((k) => `${what} along the stem, wave ${k}`),
);

/** Changes of ln f of a mode for one standard deviation of each wave: of stiffness, then of mass. */
export function effectsOfWaves(
  waves: readonly FieldEnergies[],
  shape: Float64Array,
  values: BeamValues,
  frequencyHz: number,
): number[] {
  return [
    ...waves.map((wave, i) => (STIFFNESS_WAVE_SD / WAVES[i]!) * wave.stiffness(shape, values)),
    ...waves.map((wave, i) => (MASS_WAVE_SD / WAVES[i]!) * wave.mass(shape, values, frequencyHz)),
  ];
}
