import { NEGLIGIBLE_SHARE, type Shift } from './shiftOverGrid.ts';

/** The normal distribution of a shift as values this far apart, in its standard deviations, each of which stands for all up to the next. */
const STEP_SD = 0.7;
const POINTS_ASIDE = 4;

/** Values that stand for a distribution: places and widths in its standard deviations, and the share of each. */
type CutDistribution = {
  readonly places: Float64Array;
  readonly shares: Float64Array;
  readonly widthSd: number;
};

/** A normal distribution. */
export const NORMAL = cutNormal();
/** One without a width. */
export const POINT: CutDistribution = { places: Float64Array.of(0), shares: Float64Array.of(1), widthSd: 0 };

/** Places and shares whose deviation is 1, the width that each stands for included. */
function cutNormal(): CutDistribution {
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
  const weighty = listWeighty(weights);
  const most = weighty.length * (shift === null ? 1 : NORMAL.places.length);
  const found = {
    values: new Float64Array(most),
    weights: new Float64Array(most),
    places: new Int32Array(most),
  };
  let count = 0;
  for (const at of weighty) {
    const row = Math.floor(at / ne);
    const sd = shift?.sd[row] ?? 0;
    const value = (perX?.[row] ?? 0) + (perModulus?.[at - row * ne] ?? 0) + (shift?.mean[at] ?? 0);
    const { places, shares } = sd === 0 ? POINT : NORMAL;
    for (let z = 0; z < places.length; z++) {
      found.values[count] = value + places[z]! * sd;
      found.weights[count] = shares[z]! * weights[at]!;
      found.places[count++] = at;
    }
  }
  return {
    values: found.values.subarray(0, count),
    weights: found.weights.subarray(0, count),
    places: found.places.subarray(0, count),
  };
}

/** Grid points that hold any weight. */
export function listWeighty(weights: Float64Array): Int32Array {
  const found = new Int32Array(weights.length);
  let count = 0;
  for (let at = 0; at < weights.length; at++) if (weights[at]! >= NEGLIGIBLE_SHARE) found[count++] = at;
  return found.subarray(0, count);
}
