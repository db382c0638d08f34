import { addInputs, createInverter } from './covariance.ts';
import { createSensitivities, type Data, sensitivitiesAt } from './data.ts';
import type { FrequencyTable } from './frequencyTable.ts';
import type { Integral } from './integrateGrid.ts';
import { evaluateRow, interpolateRow, modulusPlace, rowAt } from './interpolate.ts';

/** A quantity that hangs on the uncertain inputs: its mean at each grid point, row by x, and its deviation at each x. */
export type Shift = { readonly mean: Float64Array; readonly sd: Float64Array };

/** What the uncertain inputs, given the data, add to ln density (in its prior deviations), ln k_theta and ln fixity. */
export type Shifts = { readonly density: Shift; readonly rotational: Shift; readonly fixity: Shift };

/** Grid points below this share of all hold nothing that counts. */
export const NEGLIGIBLE_SHARE = 1e-9;

/**
 * Finds what the data say of quantities that hang linearly on the uncertain inputs, over a posterior's grid: with the quantity
 * c' u, inputs u of unit variance and sensitivities J of the data, mean c' J' S^-1 r and variance c' c - (J c)' S^-1 (J c) (normal
 * conditioning; textbook). Zero where the posterior holds nothing.
 * @param data - without those that are taken as odd: each datum here counts in full
 */
export function shiftOverGrid(table: FrequencyTable, data: Data, integral: Integral): Shifts {
  const { lnModulus, x, weights } = integral;
  const n = data.measured.length;
  const ne = lnModulus.length;
  const empty = () => ({ mean: new Float64Array(weights.length), sd: new Float64Array(x.length) });
  const shifts = { density: empty(), rotational: empty(), fixity: empty() };
  const targets = [
    { shift: shifts.density, effects: null },
    { shift: shifts.rotational, effects: table.rootSensitivity },
    { shift: shifts.fixity, effects: table.fixitySensitivity },
  ].map((target) => ({ ...target, perResidual: new Float64Array(n) }));
  const residual = new Float64Array(n);
  const rows = data.predictions.map(() => new Float64Array(3));
  const sensitivities = createSensitivities(table, data);
  const covariance = new Float64Array(n * n);
  const { inverse, invert } = createInverter(n);
  const onInputs = new Float64Array(table.inputCount);
  const onData = new Float64Array(n);
  for (let i = 0; i < x.length; i++) {
    const held = weights.subarray(i * ne, (i + 1) * ne);
    if (!holdsAny(held)) continue;
    sensitivitiesAt(table, data, x[i]!, sensitivities);
    invert(addInputs(data.own, sensitivities, covariance));
    for (let p = 0; p < n; p++) rowAt(table, data.predictions[p]!.values, x[i]!, rows[p]!);
    for (const { shift, effects, perResidual } of targets) {
      if (effects === null) onInputs.fill(0).fill(1, 0, 1);
      else interpolateRow(table.sensitivityX, effects, x[i]!, onInputs);
      for (let p = 0; p < n; p++) onData[p] = dot(sensitivities[p]!, 0, onInputs);
      for (let p = 0; p < n; p++) perResidual[p] = dot(inverse, p * n, onData);
      shift.sd[i] = Math.sqrt(Math.max(dot(onInputs, 0, onInputs) - dot(perResidual, 0, onData), 0));
    }
    for (let j = 0; j < ne; j++) {
      if (held[j]! < NEGLIGIBLE_SHARE) continue;
      const place = modulusPlace(table, lnModulus[j]!);
      for (let p = 0; p < n; p++) residual[p] = data.measured[p]! - evaluateRow(rows[p]!, place);
      for (const { shift, perResidual } of targets) shift.mean[i * ne + j] = dot(residual, 0, perResidual);
    }
  }
  return shifts;
}

/** Mean and deviation of a shift over the whole grid. */
export function momentsOfShift(weights: Float64Array, { mean: means, sd: sds }: Shift) {
  const ne = weights.length / sds.length;
  let mean = 0;
  let square = 0;
  for (let at = 0; at < weights.length; at++) {
    mean += weights[at]! * means[at]!;
    square += weights[at]! * (means[at]! ** 2 + sds[Math.floor(at / ne)]! ** 2);
  }
  return { mean, sd: Math.sqrt(Math.max(square - mean ** 2, 0)) };
}

function holdsAny(weights: Float64Array): boolean {
  for (let at = 0; at < weights.length; at++) if (weights[at]! >= NEGLIGIBLE_SHARE) return true;
  return false;
}

/** Product of the second and of as many of the first from `from` on. */
function dot(longer: Float64Array, from: number, shorter: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < shorter.length; k++) sum += longer[from + k]! * shorter[k]!;
  return sum;
}
