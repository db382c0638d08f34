import type { Estimate } from '../assessment.ts';
import { type GridQuantity, listWeighty, NORMAL, POINT } from './listGridValues.ts';

/** Level of the intervals that results carry. */
const INTERVAL_LEVEL = 0.9;
/** Some thirty bins to a standard deviation of what a posterior grid holds. */
const BINS = 500;

/** A distribution on equal bins from `from`, `step` apart; shares sum to 1. */
export type Distribution = { readonly from: number; readonly step: number; readonly shares: Float64Array };

/**
 * Bins a quantity over posteriors that share out the probability. A value at a grid point stands for its cell and lies evenly over
 * it: as points alone, medians and limits would come in steps of the grid. A cell has up to three widths: along the two axes, and of the
 * value among those of a shift. Over the widest it is even, the others are two values a standard deviation either way.
 */
export function binQuantity(
  parts: readonly (GridQuantity & { readonly probability: number })[],
): Distribution {
  const listed = parts.map((part) => ({ ...listCells(part), probability: part.probability }));
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  let total = 0;
  for (const { middles, widths, deviations, shiftSds, weights, probability } of listed) {
    for (let i = 0; i < middles.length; i++) {
      const reach = widths[i]! / 2 + deviations[i]! + NORMAL.places.at(-1)! * shiftSds[i]!;
      if (middles[i]! - reach < from) from = middles[i]! - reach;
      if (middles[i]! + reach > to) to = middles[i]! + reach;
      total += probability * weights[i]!;
    }
  }
  const step = (to - from) / (BINS - 1) || 1;
  // A share over a cell grows as a ramp that ends; at the edges of bins the second differences of a ramp are two numbers.
  const bends = new Float64Array(BINS + 3);
  for (const { middles, widths, deviations, shiftSds, weights, probability } of listed) {
    for (let i = 0; i < middles.length; i++) {
      const { places, shares } = shiftSds[i] === 0 ? POINT : NORMAL;
      const width = Math.max(widths[i]! / step, 1);
      const aside = deviations[i]! / step;
      const slope = ((probability / total) * weights[i]!) / (2 * width);
      for (let z = 0; z < places.length; z++) {
        const middle = (middles[i]! + places[z]! * shiftSds[i]! - from) / step + 0.5;
        bend(bends, middle - aside - width / 2, slope * shares[z]!);
        bend(bends, middle - aside + width / 2, -slope * shares[z]!);
        bend(bends, middle + aside - width / 2, slope * shares[z]!);
        bend(bends, middle + aside + width / 2, -slope * shares[z]!);
      }
    }
  }
  const shares = new Float64Array(BINS);
  let share = 0;
  for (let bin = 0; bin < BINS; bin++) {
    share += bends[bin + 1]!;
    shares[bin] = Math.max(share, 0);
  }
  return { from, step, shares };
}

/** Adds a change of slope at a place between two edges of bins, shared between them. */
function bend(bends: Float64Array, place: number, slope: number): void {
  const edge = Math.floor(place);
  bends[edge + 1]! += slope * (1 - (place - edge));
  bends[edge + 2]! += slope * (place - edge);
}

/** A value spread evenly over a width has this standard deviation of it. */
const DEVIATION_A_WIDTH = 1 / Math.sqrt(12);

/** Values at the grid points that hold any weight: the widest width of each cell, the standard deviation that its others add, that of its shift. */
function listCells(quantity: GridQuantity) {
  const { weights, rows, perX, perModulus, shift } =
    quantity.perX || quantity.shift ? quantity : sumRows(quantity);
  const columns = weights.length / rows;
  const alongX = spacings(perX, rows);
  const alongModulus = spacings(perModulus, columns);
  const places = listWeighty(weights);
  const own = () => new Float64Array(places.length);
  const [middles, widths, deviations, shiftSds, held] = [own(), own(), own(), own(), own()];
  for (let i = 0; i < places.length; i++) {
    const at = places[i]!;
    const row = Math.floor(at / columns);
    const column = at - row * columns;
    const x = alongX[row]!;
    const modulus = alongModulus[column]!;
    const shiftSd = shift?.sd[row] ?? 0;
    const shifted = NORMAL.widthSd * shiftSd;
    const widest = Math.max(x, modulus, shifted);
    const others = x * x + modulus * modulus + shifted * shifted - widest * widest;
    middles[i] = (perX?.[row] ?? 0) + (perModulus?.[column] ?? 0) + (shift?.mean[at] ?? 0);
    widths[i] = widest;
    deviations[i] = DEVIATION_A_WIDTH * Math.sqrt(Math.max(others, 0));
    shiftSds[i] = shiftSd;
    held[i] = weights[at]!;
  }
  return { middles, widths, deviations, shiftSds, weights: held };
}

/** The same of a quantity that hangs on ln E alone, its rows put together. */
function sumRows({ weights, rows, perModulus }: GridQuantity): GridQuantity {
  const columns = weights.length / rows;
  const sums = new Float64Array(columns);
  for (let row = 0; row < rows; row++)
    for (let j = 0; j < columns; j++) sums[j]! += weights[row * columns + j]!;
  return { weights: sums, rows: 1, perX: null, perModulus, shift: null };
}

/** Distance of each value to its neighbours, the mean of both; 0 where there are none. */
function spacings(values: Float64Array | null, count: number): Float64Array {
  const found = new Float64Array(count);
  if (values === null) return found;
  for (let i = 0; i < count; i++) {
    const [before, after] = [Math.max(i - 1, 0), Math.min(i + 1, count - 1)];
    if (after > before) found[i] = Math.abs(values[after]! - values[before]!) / (after - before);
  }
  return found;
}

/** Median and central interval of a distribution. */
export function estimateFrom(distribution: Distribution, level = INTERVAL_LEVEL): Estimate {
  const tail = (1 - level) / 2;
  return {
    value: quantileOf(distribution, 0.5),
    low: quantileOf(distribution, tail),
    high: quantileOf(distribution, 1 - tail),
    level,
  };
}

function quantileOf({ from, step, shares }: Distribution, wanted: number): number {
  let below = 0;
  for (let bin = 0; bin < shares.length; bin++) {
    const next = below + shares[bin]!;
    // a bin's share lies evenly half a step to either side of its middle
    if (next >= wanted) return from + step * (bin - 0.5 + (wanted - below) / shares[bin]!);
    below = next;
  }
  return from + step * (shares.length - 1);
}

/** Mean and standard deviation of a distribution. */
export function momentsOf({ from, step, shares }: Distribution): { mean: number; sd: number } {
  let mean = 0;
  for (let bin = 0; bin < shares.length; bin++) mean += shares[bin]! * (from + step * bin);
  let variance = 0;
  for (let bin = 0; bin < shares.length; bin++) variance += shares[bin]! * (from + step * bin - mean) ** 2;
  return { mean, sd: Math.sqrt(variance) };
}

/** Share of a distribution below a value. */
export function shareBelow({ from, step, shares }: Distribution, value: number): number {
  let below = 0;
  for (let bin = 0; bin < shares.length; bin++) {
    const left = from + step * (bin - 0.5);
    below += shares[bin]! * Math.min(Math.max((value - left) / step, 0), 1);
  }
  return below;
}

/** The same estimate through a rising function, for instance exp. */
export function mapEstimate(estimate: Estimate, rising: (value: number) => number): Estimate {
  return {
    value: rising(estimate.value),
    low: rising(estimate.low),
    high: rising(estimate.high),
    level: estimate.level,
  };
}
