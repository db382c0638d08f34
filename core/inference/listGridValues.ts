import { NEGLIGIBLE_SHARE, type Shift } from './shiftOverGrid.ts';

/** The normal distribution of a shift as values this far apart, in its standard deviations, each of which stands for all up to the next. */
const STEP_SD = 0.7;
const POINTS_ASIDE = 4;
const NORMAL = cutNormal();
/** Width that each of the values of a shift stands for, in its standard deviations. */
export const SHIFT_WIDTH_SD = NORMAL.widthSd;

/** Places and shares whose deviation is 1, the width that each stands for included. */
function cutNormal(): { places: Float64Array; shares: Float64Array; widthSd: number } {
  const steps = Float64Array.from({ length: 2 * POINTS_ASIDE + 1 }, (_, i) => (i - POINTS_ASIDE) * STEP_SD);
  const density = steps.map((z) => Math.exp(-0.5 * z * z));
  const total = density.reduce((sum, value) => sum + value, 0);
  const shares = density.map((value) => value / total);
  const variance = shares.reduce((sum, share, i) => sum + share * steps[i]! ** 2, STEP_SD ** 2 / 12);
  const scale = 1 / Math.sqrt(variance);
  return { places: steps.map((z) => z * scale), shares, widthSd: STEP_SD * scale };
}

/** A quantity over a posterior's grid: what it gains by x and by ln E, and a shift; each null where it does not. */
export type GridQuantity = {
  readonly weights: Float64Array;
  /** Number of points in x. */
  readonly rows: number;
  readonly perX: Float64Array | null;
  readonly perModulus: Float64Array | null;
  readonly shift: Shift | null;
};

/** Values of a quantity with their shares of all weight, and the grid index of each. */
export type GridValues = {
  readonly values: Float64Array;
  readonly weights: Float64Array;
  readonly places: Int32Array;
};

/**
 * Lists the values of a quantity at all grid points of a posterior that hold any weight: each once, or as the values that
 * stand for the normal distribution of its shift.
 */
export function listGridValues({ weights, rows, perX, perModulus, shift }: GridQuantity): GridValues {
  const ne = weights.length / rows;
  const most = countWeighty(weights) * (shift === null ? 1 : NORMAL.places.length);
  const found = {
    values: new Float64Array(most),
    weights: new Float64Array(most),
    places: new Int32Array(most),
  };
  let count = 0;
  const add = (value: number, weight: number, at: number): void => {
    found.values[count] = value;
    found.weights[count] = weight;
    found.places[count++] = at;
  };
  for (let i = 0; i < rows; i++) {
    const base = perX?.[i] ?? 0;
    const sd = shift?.sd[i] ?? 0;
    for (let j = 0; j < ne; j++) {
      const at = i * ne + j;
      const weight = weights[at]!;
      if (weight < NEGLIGIBLE_SHARE) continue;
      const value = base + (perModulus?.[j] ?? 0) + (shift?.mean[at] ?? 0);
      if (sd === 0) add(value, weight, at);
      else
        for (let z = 0; z < NORMAL.places.length; z++)
          add(value + NORMAL.places[z]! * sd, NORMAL.shares[z]! * weight, at);
    }
  }
  return {
    values: found.values.subarray(0, count),
    weights: found.weights.subarray(0, count),
    places: found.places.subarray(0, count),
  };
}

function countWeighty(weights: Float64Array): number {
  let count = 0;
  for (let at = 0; at < weights.length; at++) if (weights[at]! >= NEGLIGIBLE_SHARE) count++;
  return count;
}
