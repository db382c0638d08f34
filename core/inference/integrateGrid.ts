import { addInputs, invertCovariance } from './covariance.ts';
import { type Data, sensitivitiesAt } from './data.ts';
import type { FrequencyTable } from './frequencyTable.ts';
import { evaluateRow, rowAt } from './interpolate.ts';

export type Grid = { readonly lnModulus: Float64Array; readonly x: Float64Array };

/** Posterior weights on a grid, row by x, sum 1; ln evidence; chance of each datum to be odd. */
export type Integral = Grid & {
  readonly weights: Float64Array;
  readonly logEvidence: number;
  readonly oddChances: Float64Array;
  /** Density given the data, in prior standard deviations about its prior median, over the whole grid. */
  readonly density: { readonly mean: number; readonly sd: number };
};

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
  const densityShift = new Float64Array(x.length * ne);
  const densityVariance = new Float64Array(x.length);
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
    const densityRow = sensitivities.map((row) => row[0]!);
    densityVariance[i] = 1 - quadraticForm(inverse, densityRow);
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
      for (let p = 0; p < n; p++) densityShift[at]! += densityRow[p]! * solved[p]!;
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
  const density = momentsOverGrid(weights, densityShift, densityVariance);
  return { lnModulus, x, weights, logEvidence, oddChances, density };
}

function quadraticForm(matrix: Float64Array, vector: readonly number[]): number {
  const n = vector.length;
  let total = 0;
  for (let a = 0; a < n; a++)
    for (let b = 0; b < n; b++) total += vector[a]! * matrix[a * n + b]! * vector[b]!;
  return total;
}

/** Mean and deviation of a quantity that has a mean at each grid point and a variance at each x. */
function momentsOverGrid(weights: Float64Array, means: Float64Array, variances: Float64Array) {
  const ne = weights.length / variances.length;
  let mean = 0;
  let square = 0;
  for (let at = 0; at < weights.length; at++) {
    mean += weights[at]! * means[at]!;
    square += weights[at]! * (means[at]! ** 2 + variances[Math.floor(at / ne)]!);
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
