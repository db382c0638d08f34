import { addInputs, createInverter, factorLower, solveFactored } from './covariance.ts';
import { gatherData, type Pick, type Prediction, predictionOf, sensitivitiesAt } from './data.ts';
import { type Gradient, gradientOfQuantity } from './extras.ts';
import type { StemRootPosterior } from './fitStemAndRoot.ts';
import { type FrequencyTable, MODES_KNOWN } from './frequencyTable.ts';
import { interpolate, interpolateLinear } from './interpolate.ts';

/** What a further measurement would be expected to do. */
export type NextMeasurement = {
  readonly id: string;
  readonly text: string;
  /** Expected 1 - new standard deviation / present one, of ln E and of ln k_theta. */
  readonly stemNarrowing: number;
  readonly rootNarrowing: number;
};

/** Errors of measurements not yet made (ours). */
const MODE_LOG_SD = 0.002;
const DENSITY_LOG_SD = 0.03;
const TIP_GIRTH_SD_M = 0.015;
/** Of a ratio of motions at two heights, and of the ln of deflection over force. */
const SHAPE_RATIO_SD = 0.1;
const PULL_LOG_SD = 0.3;
const SECOND_HEIGHT_M = 4.5;
const PULL_HEIGHT_M = 5;
/** On short poles no higher than this share of the stem. */
const HIGHEST_SHARE = 0.8;
/** Places, in ln, at which gradients of further quantities are computed. */
const GRADIENT_PLACE_STEP = 0.2;
/** A measurement that narrows neither by this much is not worth a line. */
const LEAST_NARROWING = 0.02;

const MODE_ADVICE = [
  'Mode 1: strike with the hand, long and soft, and record 10 s or more.',
  'Mode 2: strike with the hammer at chest height.',
  'Mode 3: strike with the hammer, low on the pole.',
  'Mode 4: strike with a light, hard hammer, low on the pole.',
];

/** One more row of data: how it depends on stem, root and inputs, and the variance of its own errors. */
type Row = { gradient: Gradient; variance: number };

/**
 * Ranks further measurements by how much each would be expected to narrow stem and root: all relations made linear at the
 * posterior's peak, where the posterior's covariance does not depend on what would be read (linear Gaussian design;
 * Lindley 1956, Ann. Math. Stat. 27:986, from memory for the idea). Nothing odd is foreseen.
 */
export function rankNextMeasurements(posterior: StemRootPosterior, sensorHeightM: number): NextMeasurement[] {
  const { table } = posterior;
  // gradients vary slowly: at rounded places they are computed once while picks move
  const peak = {
    x: Math.round(posterior.peak.x / GRADIENT_PLACE_STEP) * GRADIENT_PLACE_STEP,
    lnModulus: Math.round(posterior.peak.lnModulus / GRADIENT_PLACE_STEP) * GRADIENT_PLACE_STEP,
  };
  const highestM = HIGHEST_SHARE * (table.model.lengthM - table.model.settingDepthM);
  const pullM = Math.min(PULL_HEIGHT_M, highestM);
  const secondM = Math.min(SECOND_HEIGHT_M, highestM);
  const now = widths(posterior, [], []);
  const quantity = (kind: 'shape' | 'pull', variance: number): Row => {
    const gradient = gradientOfQuantity(
      table,
      table.azimuthsDeg[0]!,
      kind === 'pull'
        ? { kind, forceHeightM: pullM, readAtM: pullM }
        : { kind, number: 2, heightM: secondM, referenceHeightM: sensorHeightM },
      peak.x,
      peak.lnModulus,
    );
    // the pole's irregularities are within the variance of a quantity
    const inputs = new Float64Array(table.nuisances.length);
    inputs.set(gradient.inputs);
    return { gradient: { ...gradient, inputs }, variance };
  };
  const input = (name: string, sd: number): Row => ({
    gradient: {
      lnModulus: 0,
      x: 0,
      inputs: Float64Array.from(table.nuisances, (nuisance) => (nuisance === name ? 1 : 0)),
    },
    variance: sd ** 2,
  });
  const { model } = table;
  const options: { id: string; text: string; rows: Row[]; expected?: Pick[] }[] = [
    ...missingModes(posterior).map(({ number, expected }) => ({
      id: `mode-${number}`,
      text: MODE_ADVICE[number - 1]!,
      rows: [],
      expected,
    })),
    {
      id: 'density',
      text: 'Density of the wood: take a core, or weigh and measure a sample.',
      rows: [input('density', DENSITY_LOG_SD / model.density.logSd)],
    },
    {
      id: 'tip-girth',
      text: 'Circumference at the tip, or as high up as can be reached.',
      rows: [input('taper', TIP_GIRTH_SD_M / Math.PI / model.tipDiameterSdM)],
    },
    {
      id: 'second-height',
      text: `A second sensor at about ${secondM.toFixed(1)} m, recorded together with the first.`,
      rows: [quantity('shape', SHAPE_RATIO_SD ** 2)],
    },
    {
      id: 'static-pull',
      text: `A steady pull at about ${pullM.toFixed(1)} m with force and deflection read.`,
      rows: [quantity('pull', PULL_LOG_SD ** 2)],
    },
  ];
  return options
    .map(({ id, text, rows, expected = [] }) => {
      const then = widths(posterior, expected, rows);
      return { id, text, stemNarrowing: 1 - then.stem / now.stem, rootNarrowing: 1 - then.root / now.root };
    })
    .filter((next) => Math.max(next.stemNarrowing, next.rootNarrowing) >= LEAST_NARROWING)
    .sort((a, b) => b.stemNarrowing + b.rootNarrowing - a.stemNarrowing - a.rootNarrowing);
}

/** Modes that no plane shows, and modes that one plane shows and the other does not, where the model expects them. */
function missingModes({ table, picks, peak }: StemRootPosterior): { number: number; expected: Pick[] }[] {
  return Array.from({ length: MODES_KNOWN }, (_, mode) => mode + 1)
    .map((number) => {
      const planes = table.azimuthsDeg
        .map((_, plane) => plane)
        .filter((plane) => !picks.some((pick) => pick.plane === plane && pick.number === number));
      const expected = planes.map((plane): Pick => {
        const frequencyHz = Math.exp(
          interpolate(table, predictionOf(table, plane, number).values, peak.x, peak.lnModulus),
        );
        return { plane, number, frequencyHz, sdHz: MODE_LOG_SD * frequencyHz };
      });
      return { number, expected };
    })
    .filter(({ expected }) => expected.length > 0);
}

const GRADIENT_STEP = 0.02;

/** Gradient of a tabulated prediction at the posterior's peak. */
function gradientOf(
  table: FrequencyTable,
  { values }: Prediction,
  { x, lnModulus }: StemRootPosterior['peak'],
  inputs: Float64Array,
): Gradient {
  const h = GRADIENT_STEP;
  const at = (dx: number, dE: number) => interpolate(table, values, x + dx, lnModulus + dE);
  return {
    lnModulus: (at(0, h) - at(0, -h)) / (2 * h),
    x: (at(h, 0) - at(-h, 0)) / (2 * h),
    inputs,
  };
}

/**
 * Standard deviations of ln E and ln k_theta by the linear model, with the data at hand, picks expected beside them
 * (which share their errors) and rows of other kinds.
 */
function widths(
  posterior: StemRootPosterior,
  expected: readonly Pick[],
  further: readonly Row[],
): { stem: number; root: number } {
  const { table, picks, extras, peak, widening } = posterior;
  const data = gatherData(table, [...picks, ...expected], extras, widening);
  const n = data.predictions.length;
  const inputs = sensitivitiesAt(table, data, peak.x);
  const gradients = [
    ...data.predictions.map((prediction, i) => gradientOf(table, prediction, peak, inputs[i]!)),
    ...further.map((row) => row.gradient),
  ];
  const size = gradients.length;
  const own = new Float64Array(size * size);
  for (let a = 0; a < n; a++) for (let b = 0; b < n; b++) own[a * size + b] = data.own[a * n + b]!;
  further.forEach((row, i) => {
    own[(n + i) * (size + 1)] = row.variance;
  });

  const { modulus, rootStiffness } = table.model;
  const rootPrecision = 1 / rootStiffness.logSd ** 2;
  const precision = Float64Array.of(
    1 / modulus.logSd ** 2 + rootPrecision,
    rootPrecision,
    rootPrecision,
    rootPrecision,
  );
  const factor = factorLower(
    addInputs(
      own,
      gradients.map((g) => g.inputs),
    ),
    size,
  );
  const columns = [gradients.map((g) => g.lnModulus), gradients.map((g) => g.x)];
  for (const [a, column] of columns.entries()) {
    const solved = solveFactored(factor, column);
    for (const [b, other] of columns.entries()) {
      precision[2 * a + b]! += other.reduce((sum, value, i) => sum + value * solved[i]!, 0);
    }
  }
  const { inverse, invert } = createInverter(2);
  invert(precision);
  const h = GRADIENT_STEP;
  const slope =
    (interpolateLinear(table.x, table.lnFixity, peak.x + h) -
      interpolateLinear(table.x, table.lnFixity, peak.x - h)) /
    (2 * h);
  // ln k_theta = ln E + ln fixity(x) + constant
  const rootVariance = inverse[0]! + 2 * slope * inverse[1]! + slope ** 2 * inverse[3]!;
  return { stem: Math.sqrt(inverse[0]!), root: Math.sqrt(Math.max(rootVariance, 1e-12)) };
}
