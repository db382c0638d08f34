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

/**
 * Visits the values of a quantity at all grid points of a posterior that hold any weight: each once, or as the five
 * points that stand for the normal distribution of its shift.
 * @param visit - value, its share of all weight, grid index
 */
export function visitGrid(
  { weights, rows, perX, perModulus, shift }: GridQuantity,
  visit: (value: number, weight: number, at: number) => void,
): void {
  const ne = weights.length / rows;
  for (let i = 0; i < rows; i++) {
    const base = perX?.[i] ?? 0;
    const sd = shift?.sd[i] ?? 0;
    for (let j = 0; j < ne; j++) {
      const at = i * ne + j;
      const weight = weights[at]!;
      if (weight < NEGLIGIBLE_SHARE) continue;
      const value =
        base + (perModulus === null ? 0 : perModulus[j]!) + (shift === null ? 0 : shift.mean[at]!);
      if (sd === 0) visit(value, weight, at);
      else for (let z = 0; z < POINTS.length; z++) visit(value + POINTS[z]! * sd, SHARES[z]! * weight, at);
    }
  }
}
