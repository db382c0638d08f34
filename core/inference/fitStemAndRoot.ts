import { spread } from '../vectors.ts';
import { addInputs, factorLower, solveFactored } from './covariance.ts';
import {
  type Data,
  type Extra,
  gatherData,
  type Pick,
  predictionOf,
  selectData,
  sensitivitiesAt,
} from './data.ts';
import { groundlineSecondMomentM4 } from './describePole.ts';
import { findPeak } from './findPeak.ts';
import { type FrequencyTable, MODES_KNOWN } from './frequencyTable.ts';
import { type Grid, type Integral, integrateGrid } from './integrateGrid.ts';
import { interpolate, interpolateLinear } from './interpolate.ts';
import { momentsOfShift, type Shift, shiftOverGrid } from './shiftOverGrid.ts';

/** The joint posterior of stem modulus and root on a grid, and what the data look like under it. */
export type StemRootPosterior = {
  readonly table: FrequencyTable;
  readonly picks: readonly Pick[];
  readonly extras: readonly Extra[];
  readonly lnModulus: Float64Array;
  readonly x: Float64Array;
  readonly lnFixity: Float64Array;
  /** ln of rotational stiffness in N m/rad minus ln E, at each x. */
  readonly lnRotationalPerModulus: Float64Array;
  /** What the uncertain inputs, depth above all, add to ln k_theta and ln fixity. */
  readonly rotationalShift: Shift;
  readonly fixityShift: Shift;
  /** weights[i * lnModulus.length + j], sum 1, at x[i], lnModulus[j]. */
  readonly weights: Float64Array;
  /** ln of the probability density of the data under the model, priors integrated out. */
  readonly logEvidence: number;
  /** The grid's point of greatest weight. */
  readonly peak: { readonly x: number; readonly lnModulus: number };
  /** Density given the data, as a factor on its prior median (ln) and its deviation. */
  readonly lnDensity: { readonly mean: number; readonly sd: number };
  /** One for each pick, then one for each extra. */
  readonly results: readonly DatumResult[];
  /** Squared misfit at the peak over its degrees of freedom; null where there are none. */
  readonly misfit: number | null;
  /** Factor on the variances of picks, above 1 where they disagree with the model. */
  readonly widening: number;
};

export type DatumResult = {
  /** In the datum's own terms: ln f of a pick. */
  readonly predicted: number;
  /** (measured - predicted) over its standard deviation, model error included. */
  readonly residual: number;
  /** Chance that the datum is not what it is held to be. */
  readonly oddChance: number;
};

/** One sound pole in a hundred has a squared misfit beyond which intervals are widened by it (Birge ratio; Birge 1932, Phys. Rev. 40:207; the chance ours). */
const Z_OF_WIDENING = 2.3263;
/** Parameters that the data determine: stem and root. */
const FITTED_PARAMETERS = 2;

type GridSize = { readonly modulus: number; readonly root: number };
const COARSE: GridSize = { modulus: 9, root: 17 };
const ROUGH: GridSize = { modulus: 21, root: 33 };
const WIDE: GridSize = { modulus: 33, root: 49 };
/** Over what the wide grid leaves, some eleven standard deviations, a quarter of one a step: medians and limits of E within 0.3 % of a grid of 121. */
const FINE: GridSize = { modulus: 45, root: 45 };
const MODULUS_REACH_SD = 4;
/** A datum that is odd with a greater chance hardly counts: it says nothing of the uncertain inputs. */
export const ODD_FROM = 0.5;
/** Grid points below this share of the peak are outside of the second, fine grid. */
const CUT = 1e-7;

/**
 * Posterior of stem modulus E and root stiffness given mode picks and further data. Prior: independent lognormal E and
 * root. Likelihood: each datum (ln f of a pick) is normal about the model's, with the measurement's variance, the
 * model's own error and the first-order effect of all uncertain inputs (density, girth, taper, depth, shear, masses,
 * cables) in one covariance; at most one datum may be odd, in a mixture. Integrated on a grid, first wide, then
 * fine where the mass is. Deterministic.
 * @param picks - without picks and extras the prior is returned
 * @param givenWidening - null: as the misfit asks
 */
export function fitStemAndRoot(
  table: FrequencyTable,
  picks: readonly Pick[],
  extras: readonly Extra[] = [],
  givenWidening: number | null = null,
): StemRootPosterior {
  const integrateTwice = (data: Data): Integral =>
    integrateGrid(table, data, fineGrid(integrateGrid(table, data, wideGrid(table, WIDE))));
  const data = gatherData(table, picks, extras, 1);
  const plain = integrateTwice(data);
  const misfit = squaredMisfit(table, data, plain);
  const widening =
    givenWidening ?? (misfit !== null && misfit.perFreedom > misfit.usual ? misfit.perFreedom : 1);
  const widened = widening > 1 ? gatherData(table, picks, extras, widening) : data;
  const integral = widening > 1 ? integrateTwice(widened) : plain;

  const { model } = table;
  const perFixity = Math.log(groundlineSecondMomentM4(model) / (model.lengthM - model.settingDepthM));
  const lnFixity = integral.x.map((value) => interpolateLinear(table.x, table.lnFixity, value));
  const { x, lnModulus, predicted, own } = explainAtPeak(table, widened, integral);
  const n = widened.measured.length;
  const sound = selectData(widened, listSound(integral));
  const { density, rotational, fixity } = shiftOverGrid(table, sound, integral);
  const lnDensity = momentsOfShift(integral.weights, density);
  return {
    table,
    picks,
    extras,
    lnModulus: integral.lnModulus,
    x: integral.x,
    lnFixity,
    lnRotationalPerModulus: lnFixity.map((value) => value + perFixity),
    rotationalShift: rotational,
    fixityShift: fixity,
    weights: integral.weights,
    logEvidence: integral.logEvidence,
    peak: { x, lnModulus },
    lnDensity: {
      mean: lnDensity.mean * model.density.logSd,
      sd: lnDensity.sd * model.density.logSd,
    },
    results: predicted.map((value, i) => ({
      predicted: value,
      residual: (widened.measured[i]! - value) / Math.sqrt(own[i * n + i]!),
      oddChance: integral.oddChances[i]!,
    })),
    misfit: misfit?.perFreedom ?? null,
    widening,
  };
}

/**
 * ln evidence of picks: `rough` weighs rival numberings of modes and rival roots, `coarse` sorts out the hopeless.
 */
export function weighPicks(
  table: FrequencyTable,
  picks: readonly Pick[],
  grid: 'rough' | 'coarse',
  extras: readonly Extra[] = [],
): number {
  const size = grid === 'rough' ? ROUGH : COARSE;
  return integrateGrid(table, gatherData(table, picks, extras, 1), wideGrid(table, size)).logEvidence;
}

function wideGrid(table: FrequencyTable, size: GridSize): Grid {
  const { median, logSd } = table.model.modulus;
  const reach = MODULUS_REACH_SD * logSd;
  return {
    lnModulus: spread(Math.log(median) - reach, Math.log(median) + reach, size.modulus),
    x: spread(table.x[0]!, table.x.at(-1)!, size.root),
  };
}

function fineGrid({ lnModulus, x, weights }: Integral): Grid {
  let peak = 0;
  for (const w of weights) peak = Math.max(peak, w);
  let [e0, e1, x0, x1] = [lnModulus.length, 0, x.length, 0];
  for (let i = 0; i < x.length; i++) {
    for (let j = 0; j < lnModulus.length; j++) {
      if (weights[i * lnModulus.length + j]! < CUT * peak) continue;
      e0 = Math.min(e0, j);
      e1 = Math.max(e1, j);
      x0 = Math.min(x0, i);
      x1 = Math.max(x1, i);
    }
  }
  const at = (axis: Float64Array, i: number) => axis[Math.min(Math.max(i, 0), axis.length - 1)]!;
  return {
    lnModulus: spread(at(lnModulus, e0 - 1), at(lnModulus, e1 + 1), FINE.modulus),
    x: spread(at(x, x0 - 1), at(x, x1 + 1), FINE.root),
  };
}

/** Places of the data that count. */
function listSound({ oddChances }: Integral): number[] {
  return [...oddChances.keys()].filter((i) => oddChances[i]! <= ODD_FROM);
}

/** Where the data stand against the model at the posterior's peak, its uncertain inputs set to what the data say of them. */
function explainAtPeak(table: FrequencyTable, data: Data, integral: Integral) {
  const { x, lnModulus } = findPeak(integral);
  const n = data.measured.length;
  const rows = sensitivitiesAt(table, data, x);
  const central = data.predictions.map(({ values }) => interpolate(table, values, x, lnModulus));
  const sound = listSound(integral);
  const soundRows = sound.map((i) => rows[i]!);
  const own = addIrregularities(table, data, rows);
  const soundOwn = Float64Array.from(sound.flatMap((a) => sound.map((b) => own[a * n + b]!)));
  const factor = factorLower(
    addInputs(
      soundOwn,
      soundRows.map((row) => row.subarray(0, table.inputCount)),
    ),
    sound.length,
  );
  const residual = sound.map((i) => data.measured[i]! - central[i]!);
  const solved = solveFactored(factor, residual);
  const shifts = Float64Array.from({ length: table.inputCount }, (_, q) =>
    soundRows.reduce((sum, row, a) => sum + row[q]! * solved[a]!, 0),
  );
  return {
    x,
    lnModulus,
    predicted: central.map((value, i) => shifts.reduce((sum, shift, q) => sum + rows[i]![q]! * shift, value)),
    own,
    squares: residual.reduce((sum, value, a) => sum + value * solved[a]!, 0),
    soundCount: sound.length,
  };
}

/** Covariance of measurement and model together: all but the uncertain inputs. */
function addIrregularities(table: FrequencyTable, data: Data, rows: readonly Float64Array[]): Float64Array {
  return addInputs(
    data.own,
    rows.map((row) => row.subarray(table.inputCount)),
  );
}

/** Squared misfit a degree of freedom at the peak, and what all but one in a hundred stay below. */
function squaredMisfit(
  table: FrequencyTable,
  data: Data,
  integral: Integral,
): { perFreedom: number; usual: number } | null {
  const { squares, soundCount } = explainAtPeak(table, data, integral);
  const freedom = soundCount - FITTED_PARAMETERS;
  if (freedom <= 0) return null;
  // quantile of chi-square over its degrees of freedom (Wilson & Hilferty 1931, Proc. Natl. Acad. Sci. 17:684)
  const spread = 2 / (9 * freedom);
  return { perFreedom: squares / freedom, usual: (1 - spread + Z_OF_WIDENING * Math.sqrt(spread)) ** 3 };
}

/** Model frequencies of all known modes of a plane at a stem modulus and root, inputs at their medians, in Hz. */
export function predictFrequenciesHz(
  table: FrequencyTable,
  plane: number,
  x: number,
  lnModulus: number,
): number[] {
  return Array.from({ length: MODES_KNOWN }, (_, mode) =>
    Math.exp(interpolate(table, predictionOf(table, plane, mode + 1).values, x, lnModulus)),
  );
}
