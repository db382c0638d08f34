import { addInputs, createInverter } from './covariance.ts';
import { createSensitivities, type Data, sensitivitiesAt } from './data.ts';
import type { FrequencyTable } from './frequencyTable.ts';
import { modulusPlace, rowAt } from './interpolate.ts';

export type Grid = { readonly lnModulus: Float64Array; readonly x: Float64Array };

/** Posterior weights on a grid, row by x, sum 1; ln evidence; chance of each datum to be odd. */
export type Integral = Grid & {
  readonly weights: Float64Array;
  readonly logEvidence: number;
  readonly oddChances: Float64Array;
};

/** Grid points this much below the best so far, in ln, hold nothing that counts. */
const NEGLIGIBLE = 40;
/** Chance that a datum is wrong before anything is known of it, and the width in ln over which it may then lie (ours). */
const ODD_PRIOR = 0.03;
const ODD_WIDTH = 3;

/**
 * Integrates prior times likelihood over a grid of ln E and x. With z = S^-1 r, leaving datum i out changes r' S^-1 r by
 * -z_i^2 / (S^-1)_ii and ln |S| by ln (S^-1)_ii, so that every "datum i is odd" costs one product. At one x, r is a
 * quadratic of ln E (see rowAt), and so is z: S^-1 is applied to its three coefficients alone.
 */
export function integrateGrid(table: FrequencyTable, data: Data, { lnModulus, x }: Grid): Integral {
  const n = data.measured.length;
  const ne = lnModulus.length;
  const { modulus, rootStiffness } = table.model;
  const weights = new Float64Array(x.length * ne);
  const odd = new Float64Array(n);
  const oddConstant = new Float64Array(n);
  const oddScale = new Float64Array(n);
  const row = new Float64Array(3);
  const sensitivities = createSensitivities(table, data);
  const covariance = new Float64Array(n * n);
  const { inverse, invert } = createInverter(n);
  // coefficients of residual and z in the place on ln E, datum by datum, lowest first
  const residuals = new Float64Array(3 * n);
  const zs = new Float64Array(3 * n);
  const places = lnModulus.map((lnE) => modulusPlace(table, lnE));
  const soundPrior = Math.log(1 - ODD_PRIOR);
  const oddPrior = Math.log(ODD_PRIOR / ODD_WIDTH) - soundPrior + 0.5 * Math.log(2 * Math.PI);
  const priorConstant = -Math.log(2 * Math.PI * modulus.logSd * rootStiffness.logSd);

  const lnMedian = Math.log(modulus.median);
  const lnRootMedian = Math.log(rootStiffness.median);

  // sums of exp(ln weight - best) over the grid, for each "datum is odd"
  const oddSums = new Float64Array(n);
  // weights are of the best at their time; what it rose by is made good at the end
  const rises: { readonly at: number; readonly factor: number }[] = [];
  let best = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < x.length; i++) {
    sensitivitiesAt(table, data, x[i]!, sensitivities);
    const logDeterminant = invert(addInputs(data.own, sensitivities, covariance));
    const constant = priorConstant + n * soundPrior - 0.5 * (logDeterminant + n * Math.log(2 * Math.PI));
    for (let p = 0; p < n; p++) {
      oddConstant[p] = oddPrior - 0.5 * Math.log(inverse[p * n + p]!);
      oddScale[p] = 0.5 / inverse[p * n + p]!;
      rowAt(table, data.predictions[p]!.values, x[i]!, row);
      residuals[3 * p] = data.measured[p]! - row[0]!;
      residuals[3 * p + 1] = -row[1]!;
      residuals[3 * p + 2] = -row[2]!;
    }
    zs.fill(0);
    for (let p = 0; p < n; p++) {
      for (let q = 0; q < n; q++) {
        const entry = inverse[p * n + q]!;
        for (let c = 0; c < 3; c++) zs[3 * p + c]! += entry * residuals[3 * q + c]!;
      }
    }
    for (let j = 0; j < ne; j++) {
      const lnE = lnModulus[j]!;
      const place = places[j]!;
      const zE = (lnE - lnMedian) / modulus.logSd;
      const zRoot = (x[i]! + lnE - lnRootMedian) / rootStiffness.logSd;
      let squares = 0;
      for (let p = 0; p < n; p++) {
        const at = 3 * p;
        const z = zs[at]! + place * (zs[at + 1]! + place * zs[at + 2]!);
        odd[p] = z * z * oddScale[p]! + oddConstant[p]!;
        squares += z * (residuals[at]! + place * (residuals[at + 1]! + place * residuals[at + 2]!));
      }
      const sound = constant - 0.5 * (zE * zE + zRoot * zRoot + squares);
      let largest = sound;
      for (let p = 0; p < n; p++) {
        odd[p]! += sound;
        if (odd[p]! > largest) largest = odd[p]!;
      }
      if (largest < best - NEGLIGIBLE) continue;
      if (largest > best) {
        const rise = Math.exp(best - largest);
        for (let p = 0; p < n; p++) oddSums[p]! *= rise;
        rises.push({ at: i * ne + j, factor: rise });
        best = largest;
      }
      let sum = Math.exp(sound - best);
      for (let p = 0; p < n; p++) {
        if (odd[p]! < best - NEGLIGIBLE) continue;
        const weight = Math.exp(odd[p]! - best);
        oddSums[p]! += weight;
        sum += weight;
      }
      weights[i * ne + j] = sum;
    }
  }
  let total = 0;
  let factor = 1;
  let rise = rises.pop();
  for (let at = weights.length - 1; at >= 0; at--) {
    weights[at]! *= factor;
    total += weights[at]!;
    if (at !== rise?.at) continue;
    factor *= rise.factor;
    rise = rises.pop();
  }
  for (let at = 0; at < weights.length; at++) weights[at]! /= total;
  const cell = (lnModulus[1]! - lnModulus[0]!) * (x[1]! - x[0]!);
  return {
    lnModulus,
    x,
    weights,
    logEvidence: best + Math.log(total * cell),
    oddChances: oddSums.map((sum) => sum / total),
  };
}
