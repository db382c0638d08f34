import { groundlineSecondMomentM4 } from './describePole.ts';
import { type FrequencyTable, MODES_KNOWN } from './frequencyTable.ts';
import { evaluateRow, interpolateLinear, interpolateLogFrequency, rowAt } from './interpolate.ts';
import { MODE_IN_PLANE_LOG_SD, MODEL_LOG_SD, PLANE_LOG_SD } from './modelError.ts';

/** A measured frequency held to be mode `number` (from 1) of a plane. */
export type Pick = {
  readonly plane: number;
  readonly number: number;
  readonly frequencyHz: number;
  readonly sdHz: number;
};

/** The joint posterior of stem modulus and root on a grid, and what the picks look like under it. */
export type StemRootPosterior = {
  readonly table: FrequencyTable;
  readonly picks: readonly Pick[];
  readonly lnModulus: Float64Array;
  readonly x: Float64Array;
  readonly lnFixity: Float64Array;
  /** ln of rotational stiffness in N m/rad minus ln E, at each x. */
  readonly lnRotationalPerModulus: Float64Array;
  /** weights[i * lnModulus.length + j], sum 1, at x[i], lnModulus[j]. */
  readonly weights: Float64Array;
  /** ln of the probability density of the picks under the model, priors integrated out. */
  readonly logEvidence: number;
  /** Density given the picks, as a factor on its prior median (ln) and its deviation. */
  readonly lnDensity: { readonly mean: number; readonly sd: number };
  readonly pickResults: readonly PickResult[];
  /** Squared misfit at the peak over its degrees of freedom; null where there are none. */
  readonly misfit: number | null;
  /** Factor on the variances of model and measurement, above 1 where the picks disagree with the model. */
  readonly widening: number;
};

export type PickResult = {
  readonly predictedHz: number;
  /** (ln measured - ln predicted) over its standard deviation, model error included. */
  readonly residual: number;
  /** Chance that this pick is not the mode that it is held to be. */
  readonly oddChance: number;
};

/** Chance that a pick is wrong before anything is known of it, and the width in ln f over which it may then lie (ours). */
const ODD_PRIOR = 0.03;
const ODD_WIDTH = 3;
/** Squared misfit a degree of freedom beyond which the intervals are widened (Birge ratio; Birge 1932, Phys. Rev. 40:207). */
const WIDENING_FROM = 2;

type GridSize = { readonly modulus: number; readonly root: number };
const ROUGH: GridSize = { modulus: 25, root: 41 };
const WIDE: GridSize = { modulus: 41, root: 61 };
const FINE: GridSize = { modulus: 101, root: 101 };
const MODULUS_REACH_SD = 4;
/** Grid points below this share of the peak are outside of the second, fine grid. */
const CUT = 1e-7;

/**
 * Posterior of stem modulus E and root stiffness given mode picks. Prior: independent lognormal E and root.
 * Likelihood: ln f measured is normal about the model's, with the measurement's variance, the model's own
 * error and the first-order effect of all uncertain inputs (density, girth, taper, depth, shear, masses,
 * cables) in one covariance; at most one pick may be odd, in a mixture. Integrated on a grid, first wide,
 * then fine where the mass is. Deterministic.
 * @param picks - at least none: without picks the prior is returned
 */
export function fitStemAndRoot(table: FrequencyTable, picks: readonly Pick[]): StemRootPosterior {
  const first = integrate(table, picks, wideGrid(table), 1);
  const fine = fineGrid(first);
  const peak = integrate(table, picks, fine, 1);
  const misfit = squaredMisfit(table, picks, peak);
  const widening = misfit !== null && misfit > WIDENING_FROM ? misfit : 1;
  const posterior =
    widening > 1
      ? integrate(table, picks, fineGrid(integrate(table, picks, wideGrid(table), widening)), widening)
      : peak;
  return describe(table, picks, posterior, misfit, widening);
}

/** ln evidence of picks on a rough grid: enough to weigh rival assignments of modes. */
export function weighPicks(table: FrequencyTable, picks: readonly Pick[]): number {
  return integrate(table, picks, wideGrid(table, ROUGH), 1).logEvidence;
}

type Grid = { lnModulus: Float64Array; x: Float64Array };
type Integral = Grid & { weights: Float64Array; logEvidence: number; oddChances: Float64Array };

function wideGrid(table: FrequencyTable, size = WIDE): Grid {
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

function spread(from: number, to: number, count: number): Float64Array {
  return Float64Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
}

/**
 * Integrates prior times likelihood over a grid. With z = S^-1 r, leaving pick i out changes r' S^-1 r by
 * -z_i^2 / (S^-1)_ii and ln |S| by ln (S^-1)_ii, so that every "pick i is odd" costs one division.
 */
function integrate(table: FrequencyTable, picks: readonly Pick[], grid: Grid, widening: number): Integral {
  const { lnModulus, x } = grid;
  const n = picks.length;
  const ne = lnModulus.length;
  const { modulus, rootStiffness } = table.model;
  const weights = new Float64Array(x.length * ne);
  const oddLog = Array.from({ length: n }, () => new Float64Array(x.length * ne));
  const residual = new Float64Array(n);
  const solved = new Float64Array(n);
  const rows = picks.map(() => new Float64Array(3));
  const measured = picks.map((p) => Math.log(p.frequencyHz));
  const soundPrior = Math.log(1 - ODD_PRIOR);
  const oddPrior = Math.log(ODD_PRIOR / ODD_WIDTH) - soundPrior + 0.5 * Math.log(2 * Math.PI);
  const priorConstant = -Math.log(2 * Math.PI * modulus.logSd * rootStiffness.logSd);

  for (let i = 0; i < x.length; i++) {
    const { inverse, logDeterminant } = invertCovariance(covarianceOfPicks(table, picks, x[i]!, widening), n);
    const constant = priorConstant + n * soundPrior - 0.5 * (logDeterminant + n * Math.log(2 * Math.PI));
    for (let p = 0; p < n; p++) rowAt(table, picks[p]!.plane, picks[p]!.number - 1, x[i]!, rows[p]!);
    for (let j = 0; j < ne; j++) {
      const lnE = lnModulus[j]!;
      const zE = (lnE - Math.log(modulus.median)) / modulus.logSd;
      const zRoot = (x[i]! + lnE - Math.log(rootStiffness.median)) / rootStiffness.logSd;
      for (let p = 0; p < n; p++) residual[p] = measured[p]! - evaluateRow(table, rows[p]!, lnE);
      let squares = 0;
      for (let p = 0; p < n; p++) {
        let z = 0;
        for (let q = 0; q < n; q++) z += inverse[p * n + q]! * residual[q]!;
        solved[p] = z;
        squares += z * residual[p]!;
      }
      const at = i * ne + j;
      const sound = constant - 0.5 * (zE * zE + zRoot * zRoot + squares);
      let largest = sound;
      for (let p = 0; p < n; p++) {
        const own = inverse[p * n + p]!;
        const odd = sound + 0.5 * ((solved[p]! * solved[p]!) / own - Math.log(own)) + oddPrior;
        oddLog[p]![at] = odd;
        largest = Math.max(largest, odd);
      }
      let sum = Math.exp(sound - largest);
      for (let p = 0; p < n; p++) sum += Math.exp(oddLog[p]![at]! - largest);
      weights[at] = largest + Math.log(sum);
    }
  }

  let peak = Number.NEGATIVE_INFINITY;
  for (const w of weights) peak = Math.max(peak, w);
  let total = 0;
  const oddChances = new Float64Array(n);
  for (let at = 0; at < weights.length; at++) {
    const weight = Math.exp(weights[at]! - peak);
    total += weight;
    weights[at] = weight;
    for (let p = 0; p < n; p++) oddChances[p]! += Math.exp(oddLog[p]![at]! - peak);
  }
  for (let at = 0; at < weights.length; at++) weights[at]! /= total;
  for (let p = 0; p < n; p++) oddChances[p]! /= total;
  const cell = (lnModulus[1]! - lnModulus[0]!) * (x[1]! - x[0]!);
  return { ...grid, weights, logEvidence: peak + Math.log(total * cell), oddChances };
}

function invertCovariance(covariance: Float64Array, n: number) {
  const factor = factorLower(covariance, n);
  const inverse = new Float64Array(n * n);
  const unit = new Array<number>(n);
  let logDeterminant = 0;
  for (let q = 0; q < n; q++) {
    logDeterminant += 2 * Math.log(factor[q * n + q]!);
    unit.fill(0);
    unit[q] = 1;
    solveFactored(factor, unit).forEach((value, p) => {
      inverse[p * n + q] = value;
    });
  }
  return { inverse, logDeterminant };
}

/** Lower Cholesky factor of a covariance, which is positive definite by its own variances. */
function factorLower(covariance: Float64Array, n: number): Float64Array {
  const factor = new Float64Array(n * n);
  for (let a = 0; a < n; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = covariance[a * n + b]!;
      for (let k = 0; k < b; k++) sum -= factor[a * n + k]! * factor[b * n + k]!;
      factor[a * n + b] = a === b ? Math.sqrt(sum) : sum / factor[b * n + b]!;
    }
  }
  return factor;
}

/** Covariance of ln f of the picks about the model at x: measurement, model error, uncertain inputs. */
function covarianceOfPicks(
  table: FrequencyTable,
  picks: readonly Pick[],
  x: number,
  widening: number,
): Float64Array {
  const n = picks.length;
  const k = table.nuisances.length;
  const covariance = ownCovariance(picks, widening);
  const rows = picks.map((pick) => sensitivityAt(table, pick, x));
  for (let a = 0; a < n; a++) {
    for (let b = 0; b < n; b++) {
      let sum = 0;
      for (let q = 0; q < k; q++) sum += rows[a]![q]! * rows[b]![q]!;
      covariance[a * n + b]! += sum;
    }
  }
  return covariance;
}

/** What is not an uncertain input: the model's own error, the planes' differences, the measurement. */
function ownCovariance(picks: readonly Pick[], widening: number): Float64Array {
  const n = picks.length;
  const covariance = new Float64Array(n * n);
  for (const [a, pick] of picks.entries()) {
    for (const [b, other] of picks.entries()) {
      const shared =
        (pick.number === other.number ? MODEL_LOG_SD[pick.number - 1]! ** 2 : 0) +
        (pick.plane === other.plane ? PLANE_LOG_SD ** 2 : 0);
      covariance[a * n + b] = widening * shared;
    }
    covariance[a * n + a]! += widening * (MODE_IN_PLANE_LOG_SD ** 2 + (pick.sdHz / pick.frequencyHz) ** 2);
  }
  return covariance;
}

function sensitivityAt(table: FrequencyTable, pick: Pick, x: number): Float64Array {
  const k = table.nuisances.length;
  const values = table.sensitivity[pick.plane]![pick.number - 1]!;
  return Float64Array.from({ length: k }, (_, q) => interpolateLinear(table.sensitivityX, values, x, k, q));
}

/** Where the picks stand against the model at the posterior's peak, its uncertain inputs set to what the picks say of them. */
function explainAtPeak(table: FrequencyTable, picks: readonly Pick[], integral: Integral, widening: number) {
  const ne = integral.lnModulus.length;
  let best = 0;
  for (let at = 1; at < integral.weights.length; at++) {
    if (integral.weights[at]! > integral.weights[best]!) best = at;
  }
  const x = integral.x[Math.floor(best / ne)]!;
  const lnE = integral.lnModulus[best % ne]!;
  const sound = picks.map((_, i) => i).filter((i) => integral.oddChances[i]! < 0.5);
  const kept = sound.map((i) => picks[i]!);
  const factor = factorLower(covarianceOfPicks(table, kept, x, widening), kept.length);
  const rows = picks.map((pick) => sensitivityAt(table, pick, x));
  const residual = picks.map(
    (pick) =>
      Math.log(pick.frequencyHz) - interpolateLogFrequency(table, pick.plane, pick.number - 1, x, lnE),
  );
  const solved = solveFactored(
    factor,
    sound.map((i) => residual[i]!),
  );
  const k = table.nuisances.length;
  const shifts = Float64Array.from({ length: k }, (_, q) =>
    sound.reduce((sum, i, a) => sum + rows[i]![q]! * solved[a]!, 0),
  );
  const densityRow = sound.map((i) => rows[i]![0]!);
  const densitySolved = solveFactored(factor, densityRow);
  const densityGain = densityRow.reduce((sum, value, a) => sum + value * densitySolved[a]!, 0);
  const squares = sound.reduce((sum, i, a) => sum + residual[i]! * solved[a]!, 0);
  return { x, lnE, rows, residual, shifts, squares, densityGain, sound };
}

function solveFactored(factor: Float64Array, right: readonly number[]): number[] {
  const m = right.length;
  const out = [...right];
  for (let a = 0; a < m; a++) {
    for (let k = 0; k < a; k++) out[a]! -= factor[a * m + k]! * out[k]!;
    out[a]! /= factor[a * m + a]!;
  }
  for (let a = m - 1; a >= 0; a--) {
    for (let k = a + 1; k < m; k++) out[a]! -= factor[k * m + a]! * out[k]!;
    out[a]! /= factor[a * m + a]!;
  }
  return out;
}

/** Parameters that the picks determine: stem and root. */
const FITTED_PARAMETERS = 2;

function squaredMisfit(table: FrequencyTable, picks: readonly Pick[], integral: Integral): number | null {
  if (picks.length <= FITTED_PARAMETERS) return null;
  const { squares, sound } = explainAtPeak(table, picks, integral, 1);
  const freedom = sound.length - FITTED_PARAMETERS;
  return freedom > 0 ? squares / freedom : null;
}

function describe(
  table: FrequencyTable,
  picks: readonly Pick[],
  integral: Integral,
  misfit: number | null,
  widening: number,
): StemRootPosterior {
  const { lnModulus, x, weights, logEvidence, oddChances } = integral;
  const { model } = table;
  const armM = model.lengthM - model.settingDepthM;
  const perFixity = Math.log(groundlineSecondMomentM4(model) / armM);
  const lnFixity = x.map((value) => interpolateLinear(table.x, table.lnFixity, value));
  const peak = explainAtPeak(table, picks, integral, widening);
  const own = ownCovariance(picks, widening);
  const pickResults = picks.map((pick, i) => {
    const shift = peak.rows[i]!.reduce((sum, value, q) => sum + value * peak.shifts[q]!, 0);
    const logPredicted =
      interpolateLogFrequency(table, pick.plane, pick.number - 1, peak.x, peak.lnE) + shift;
    return {
      predictedHz: Math.exp(logPredicted),
      residual: (Math.log(pick.frequencyHz) - logPredicted) / Math.sqrt(own[i * picks.length + i]!),
      oddChance: oddChances[i]!,
    };
  });
  return {
    table,
    picks,
    lnModulus,
    x,
    lnFixity,
    lnRotationalPerModulus: lnFixity.map((value) => value + perFixity),
    weights,
    logEvidence,
    lnDensity: {
      mean: peak.shifts[0]! * model.density.logSd,
      sd: model.density.logSd * Math.sqrt(Math.max(1 - peak.densityGain, 0)),
    },
    pickResults,
    misfit,
    widening,
  };
}

/** Model frequencies of all known modes of a plane at a stem modulus and root, inputs at their medians, in Hz. */
export function predictFrequenciesHz(
  table: FrequencyTable,
  plane: number,
  x: number,
  lnModulus: number,
): number[] {
  return Array.from({ length: MODES_KNOWN }, (_, mode) =>
    Math.exp(interpolateLogFrequency(table, plane, mode, x, lnModulus)),
  );
}
