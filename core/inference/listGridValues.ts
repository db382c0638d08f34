import { NEGLIGIBLE_SHARE, type Shift } from './shiftOverGrid.ts';

/** Five points of Gauss-Hermite quadrature for a standard normal (Abramowitz & Stegun 25.4.46 at x sqrt 2, from memory). */
const POINTS = Float64Array.of(
  -2.856970013872806,
  -1.355626179974266,
  0,
  1.355626179974266,
  2.856970013872806,
);
const SHARES = Float64Array.of(
  0.011257411327720691,
  0.2220759220056126,
  0.5333333333333333,
  0.2220759220056126,
  0.011257411327720691,
);
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
 * Lists the values of a quantity at all grid points of a posterior that hold any weight: each once, or as the five
 * points that stand for the normal distribution of its shift.
 */
export function listGridValues({ weights, rows, perX, perModulus, shift }: GridQuantity): GridValues {
  const ne = weights.length / rows;
  const most = countWeighty(weights) * (shift === null ? 1 : POINTS.length);
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
      else for (let z = 0; z < POINTS.length; z++) add(value + POINTS[z]! * sd, SHARES[z]! * weight, at);
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
