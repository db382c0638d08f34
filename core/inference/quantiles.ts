import type { Estimate } from '../assessment.ts';
import { type GridQuantity, listGridValues, SHIFT_WIDTH_SD } from './listGridValues.ts';

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
  const listed = parts.map((part) => {
    const found = listGridValues(part);
    return { ...found, ...listCells(part, found.places), probability: part.probability };
  });
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  let total = 0;
  for (const { values, widths, deviations, weights, probability } of listed) {
    for (let i = 0; i < values.length; i++) {
      const reach = widths[i]! / 2 + deviations[i]!;
      if (values[i]! - reach < from) from = values[i]! - reach;
      if (values[i]! + reach > to) to = values[i]! + reach;
      total += probability * weights[i]!;
    }
  }
  const step = (to - from) / (BINS - 1) || 1;
  // A share over a cell grows as a ramp that ends; at the edges of bins the second differences of a ramp are two numbers.
  const bends = new Float64Array(BINS + 3);
  const bend = (place: number, slope: number): void => {
    const edge = Math.floor(place);
    bends[edge + 1]! += slope * (1 - (place - edge));
    bends[edge + 2]! += slope * (place - edge);
  };
  for (const { values, widths, deviations, weights, probability } of listed) {
    const scale = probability / total;
    for (let i = 0; i < values.length; i++) {
      const width = Math.max(widths[i]! / step, 1);
      const middle = (values[i]! - from) / step + 0.5;
      const aside = deviations[i]! / step;
      const slope = (scale * weights[i]!) / (2 * width);
      for (let side = -1; side <= 1; side += 2) {
        bend(middle + side * aside - width / 2, slope);
        bend(middle + side * aside + width / 2, -slope);
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

/** A value spread evenly over a width has this standard deviation of it. */
const DEVIATION_A_WIDTH = 1 / Math.sqrt(12);

/** Of the cells that values stand for: their widest width, and the standard deviation that the others add. */
function listCells({ weights, rows, perX, perModulus, shift }: GridQuantity, places: Int32Array) {
  const columns = weights.length / rows;
  const alongX = spacings(perX, rows);
  const alongModulus = spacings(perModulus, columns);
  const widths = new Float64Array(places.length);
  const deviations = new Float64Array(places.length);
  for (let i = 0; i < places.length; i++) {
    const row = Math.floor(places[i]! / columns);
    const x = alongX[row]!;
    const modulus = alongModulus[places[i]! - row * columns]!;
    const shifted = SHIFT_WIDTH_SD * (shift?.sd[row] ?? 0);
    const widest = Math.max(x, modulus, shifted);
    widths[i] = widest;
    const others = x * x + modulus * modulus + shifted * shifted - widest * widest;
    deviations[i] = DEVIATION_A_WIDTH * Math.sqrt(Math.max(others, 0));
  }
  return { widths, deviations };
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
