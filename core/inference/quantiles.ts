import type { Estimate } from '../assessment.ts';
import { type GridQuantity, listGridValues } from './listGridValues.ts';

/** Level of the intervals that results carry. */
const INTERVAL_LEVEL = 0.9;
/** Some thirty bins to a standard deviation of what a posterior grid holds. */
const BINS = 500;

/** A distribution on equal bins from `from`, `step` apart; shares sum to 1. */
export type Distribution = { readonly from: number; readonly step: number; readonly shares: Float64Array };

/** Bins a quantity over posteriors that share out the probability; each value is shared between its two nearest bins. */
export function binQuantity(
  parts: readonly (GridQuantity & { readonly probability: number })[],
): Distribution {
  const listed = parts.map((part) => ({ ...listGridValues(part), probability: part.probability }));
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  let total = 0;
  for (const { values, weights, probability } of listed) {
    for (let i = 0; i < values.length; i++) {
      if (values[i]! < from) from = values[i]!;
      if (values[i]! > to) to = values[i]!;
      total += probability * weights[i]!;
    }
  }
  const step = (to - from) / (BINS - 1) || 1;
  const shares = new Float64Array(BINS);
  for (const { values, weights, probability } of listed) {
    const scale = probability / total;
    for (let i = 0; i < values.length; i++) {
      const position = (values[i]! - from) / step;
      const bin = Math.min(Math.floor(position), BINS - 2);
      const upper = position - bin;
      const share = scale * weights[i]!;
      shares[bin]! += share * (1 - upper);
      shares[bin + 1]! += share * upper;
    }
  }
  return { from, step, shares };
}

/** Median and central interval of a distribution. */
export function estimateFrom({ from, step, shares }: Distribution, level = INTERVAL_LEVEL): Estimate {
  const quantile = (wanted: number): number => {
    let below = 0;
    for (let bin = 0; bin < shares.length; bin++) {
      const next = below + shares[bin]!;
      // a bin's share lies evenly half a step to either side of its middle
      if (next >= wanted) return from + step * (bin - 0.5 + (wanted - below) / shares[bin]!);
      below = next;
    }
    return from + step * (shares.length - 1);
  };
  const tail = (1 - level) / 2;
  return { value: quantile(0.5), low: quantile(tail), high: quantile(1 - tail), level };
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
