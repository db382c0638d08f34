import { quadraticForm } from '../beam/index.ts';
import { addInputs, invertCovariance } from './covariance.ts';
import { type Data, sensitivitiesAt } from './data.ts';
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
 * conditioning; textbook). No datum is taken as odd. Zero where the posterior holds nothing.
 */
export function shiftOverGrid(table: FrequencyTable, data: Data, integral: Integral): Shifts {
  const { lnModulus, x, weights } = integral;
  const n = data.measured.length;
  const ne = lnModulus.length;
  const empty = () => ({ mean: new Float64Array(weights.length), sd: new Float64Array(x.length) });
  const shifts = { density: empty(), rotational: empty(), fixity: empty() };
  const residual = new Float64Array(n);
  const rows = data.predictions.map(() => new Float64Array(3));
  for (let i = 0; i < x.length; i++) {
    const held = weights.subarray(i * ne, (i + 1) * ne);
    if (!holdsAny(held)) continue;
    const sensitivities = sensitivitiesAt(table, data, x[i]!);
    const { inverse } = invertCovariance(addInputs(data.own, sensitivities), n);
    for (let p = 0; p < n; p++) rowAt(table, data.predictions[p]!.values, x[i]!, rows[p]!);
    const targets = [
      { shift: shifts.density, onInputs: densityAlone(table) },
      { shift: shifts.rotational, onInputs: effectsAt(table, table.rootSensitivity, x[i]!) },
      { shift: shifts.fixity, onInputs: effectsAt(table, table.fixitySensitivity, x[i]!) },
    ].map(({ shift, onInputs }) => {
      const onData = Float64Array.from(sensitivities, (row) => dot(row, onInputs));
      const told = quadraticForm(n, inverse, onData);
      shift.sd[i] = Math.sqrt(Math.max(dot(onInputs, onInputs) - told, 0));
      return { shift, perResidual: onData.map((_, p) => dot(inverse.subarray(p * n), onData)) };
    });
    for (let j = 0; j < ne; j++) {
      if (held[j]! < NEGLIGIBLE_SHARE) continue;
      const place = modulusPlace(table, lnModulus[j]!);
      for (let p = 0; p < n; p++) residual[p] = data.measured[p]! - evaluateRow(rows[p]!, place);
      for (const { shift, perResidual } of targets) shift.mean[i * ne + j] = dot(residual, perResidual);
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

function densityAlone({ inputCount }: FrequencyTable): Float64Array {
  const onInputs = new Float64Array(inputCount);
  onInputs[0] = 1;
  return onInputs;
}

function effectsAt(
  { sensitivityX, inputCount }: FrequencyTable,
  effects: Float64Array,
  x: number,
): Float64Array {
  return interpolateRow(sensitivityX, effects, x, inputCount);
}

/** Product over the length of the second. */
function dot(longer: Float64Array, shorter: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < shorter.length; k++) sum += longer[k]! * shorter[k]!;
  return sum;
}
