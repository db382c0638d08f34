import { quadraticForm } from '../beam/index.ts';
import { addInputs, invertCovariance } from './covariance.ts';
import { type Data, sensitivitiesAt } from './data.ts';
import type { FrequencyTable } from './frequencyTable.ts';
import { evaluateRow, interpolateRow, rowAt } from './interpolate.ts';

export type Grid = { readonly lnModulus: Float64Array; readonly x: Float64Array };

/** Posterior weights on a grid, row by x, sum 1; ln evidence; chance of each datum to be odd. */
export type Integral = Grid & {
  readonly weights: Float64Array;
  readonly logEvidence: number;
  readonly oddChances: Float64Array;
  /** Density given the data, in prior standard deviations about its prior median, over the whole grid. */
  readonly density: { readonly mean: number; readonly sd: number };
  /** What the uncertain inputs, given the data, add to ln k_theta and to ln fixity. */
  readonly rotational: Shift;
  readonly fixity: Shift;
};

/** A quantity that hangs on the uncertain inputs: its mean at each grid point, row by x, and its deviation at each x. */
export type Shift = { readonly mean: Float64Array; readonly sd: Float64Array };

/** Grid points this much below the best so far, in ln, hold nothing that counts. */
const NEGLIGIBLE = 40;
/** Chance that a datum is wrong before anything is known of it, and the width in ln over which it may then lie (ours). */
const ODD_PRIOR = 0.03;
const ODD_WIDTH = 3;

/**
 * Integrates prior times likelihood over a grid of ln E and x. With z = S^-1 r, leaving datum i out changes r' S^-1 r by
 * -z_i^2 / (S^-1)_ii and ln |S| by ln (S^-1)_ii, so that every "datum i is odd" costs one division.
 */
export function integrateGrid(table: FrequencyTable, data: Data, { lnModulus, x }: Grid): Integral {
  const n = data.measured.length;
  const ne = lnModulus.length;
  const { modulus, rootStiffness } = table.model;
  const weights = new Float64Array(x.length * ne);
  const targets = TARGETS.map(() => ({
    mean: new Float64Array(x.length * ne),
    sd: new Float64Array(x.length),
    row: new Float64Array(n),
  }));
  const oddLog = Array.from({ length: n }, () => new Float64Array(x.length * ne));
  const residual = new Float64Array(n);
  const solved = new Float64Array(n);
  const oddConstant = new Float64Array(n);
  const rows = data.predictions.map(() => new Float64Array(3));
  const soundPrior = Math.log(1 - ODD_PRIOR);
  const oddPrior = Math.log(ODD_PRIOR / ODD_WIDTH) - soundPrior + 0.5 * Math.log(2 * Math.PI);
  const priorConstant = -Math.log(2 * Math.PI * modulus.logSd * rootStiffness.logSd);

  let best = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < x.length; i++) {
    const sensitivities = sensitivitiesAt(table, data, x[i]!);
    const { inverse, logDeterminant } = invertCovariance(addInputs(data.own, sensitivities), n);
    for (const [t, target] of targets.entries()) {
      const onInputs = TARGETS[t]!(table, x[i]!);
      for (let p = 0; p < n; p++) target.row[p] = dot(sensitivities[p]!, onInputs);
      const told = quadraticForm(n, inverse, target.row);
      target.sd[i] = Math.sqrt(Math.max(dot(onInputs, onInputs) - told, 0));
    }
    const constant = priorConstant + n * soundPrior - 0.5 * (logDeterminant + n * Math.log(2 * Math.PI));
    for (let p = 0; p < n; p++) oddConstant[p] = oddPrior - 0.5 * Math.log(inverse[p * n + p]!);
    for (let p = 0; p < n; p++) rowAt(table, data.predictions[p]!.values, x[i]!, rows[p]!);
    for (let j = 0; j < ne; j++) {
      const lnE = lnModulus[j]!;
      const zE = (lnE - Math.log(modulus.median)) / modulus.logSd;
      const zRoot = (x[i]! + lnE - Math.log(rootStiffness.median)) / rootStiffness.logSd;
      for (let p = 0; p < n; p++) residual[p] = data.measured[p]! - evaluateRow(table, rows[p]!, lnE);
      let squares = 0;
      for (let p = 0; p < n; p++) {
        let z = 0;
        for (let q = 0; q < n; q++) z += inverse[p * n + q]! * residual[q]!;
        solved[p] = z;
        squares += z * residual[p]!;
      }
      const at = i * ne + j;
      for (const { mean, row } of targets) {
        let sum = 0;
        for (let p = 0; p < n; p++) sum += row[p]! * solved[p]!;
        mean[at] = sum;
      }
      const sound = constant - 0.5 * (zE * zE + zRoot * zRoot + squares);
      let largest = sound;
      for (let p = 0; p < n; p++) {
        const odd = sound + (0.5 * solved[p]! * solved[p]!) / inverse[p * n + p]! + oddConstant[p]!;
        oddLog[p]![at] = odd;
        if (odd > largest) largest = odd;
      }
      weights[at] = largest;
      if (largest < best - NEGLIGIBLE) continue;
      if (largest > best) best = largest;
      let sum = Math.exp(sound - largest);
      for (let p = 0; p < n; p++) sum += Math.exp(oddLog[p]![at]! - largest);
      weights[at] = largest + Math.log(sum);
    }
  }
  const { logEvidence, oddChances } = normalise({ lnModulus, x }, weights, oddLog);
  return {
    lnModulus,
    x,
    weights,
    logEvidence,
    oddChances,
    density: momentsOverGrid(weights, targets[0]!),
    rotational: targets[1]!,
    fixity: targets[2]!,
  };
}

/** How density, ln k_theta and ln fixity hang on the uncertain inputs at x: change for one standard deviation of each. */
const TARGETS: readonly ((table: FrequencyTable, x: number) => Float64Array)[] = [
  ({ inputCount }) => Float64Array.from({ length: inputCount }, (_, k) => (k === 0 ? 1 : 0)),
  (table, x) => interpolateRow(table.sensitivityX, table.rootSensitivity, x, table.inputCount),
  (table, x) => interpolateRow(table.sensitivityX, table.fixitySensitivity, x, table.inputCount),
];

/** Product over the length of the second. */
function dot(longer: Float64Array, shorter: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < shorter.length; k++) sum += longer[k]! * shorter[k]!;
  return sum;
}

/** Mean and deviation of a shift over the whole grid. */
function momentsOverGrid(weights: Float64Array, { mean: means, sd: sds }: Shift) {
  const ne = weights.length / sds.length;
  let mean = 0;
  let square = 0;
  for (let at = 0; at < weights.length; at++) {
    mean += weights[at]! * means[at]!;
    square += weights[at]! * (means[at]! ** 2 + sds[Math.floor(at / ne)]! ** 2);
  }
  return { mean, sd: Math.sqrt(Math.max(square - mean ** 2, 0)) };
}

/** Turns ln weights into shares of one, and ln weights of oddness into chances. */
function normalise(grid: Grid, weights: Float64Array, oddLog: readonly Float64Array[]) {
  const { lnModulus, x } = grid;
  let peak = Number.NEGATIVE_INFINITY;
  for (const w of weights) peak = Math.max(peak, w);
  let total = 0;
  const oddChances = new Float64Array(oddLog.length);
  for (let at = 0; at < weights.length; at++) {
    if (weights[at]! < peak - NEGLIGIBLE) {
      weights[at] = 0;
      continue;
    }
    for (let p = 0; p < oddLog.length; p++) {
      const below = oddLog[p]![at]! - peak;
      if (below > -NEGLIGIBLE) oddChances[p]! += Math.exp(below);
    }
    weights[at] = Math.exp(weights[at]! - peak);
    total += weights[at]!;
  }
  for (let at = 0; at < weights.length; at++) weights[at]! /= total;
  for (let p = 0; p < oddLog.length; p++) oddChances[p]! /= total;
  const cell = (lnModulus[1]! - lnModulus[0]!) * (x[1]! - x[0]!);
  return { logEvidence: peak + Math.log(total * cell), oddChances };
}
