import type { Estimate } from '../assessment.ts';

/** Level of the intervals that results carry. */
const INTERVAL_LEVEL = 0.9;

/** Weighted samples of a quantity; weights sum to 1. */
export type WeightedValues = { readonly values: Float64Array; readonly weights: Float64Array };

/** Median and central interval of weighted values, by linear interpolation of their cumulative weight. */
export function estimateFromWeights({ values, weights }: WeightedValues, level = INTERVAL_LEVEL): Estimate {
  const order = Uint32Array.from(values.keys()).sort((a, b) => values[a]! - values[b]!);
  const quantile = (share: number): number => {
    let below = 0;
    let previous = values[order[0]!]!;
    for (const i of order) {
      const next = below + weights[i]!;
      if (next >= share) {
        const t = weights[i]! > 0 ? (share - below) / weights[i]! : 1;
        return previous + (values[i]! - previous) * Math.min(Math.max(t, 0), 1);
      }
      below = next;
      previous = values[i]!;
    }
    return previous;
  };
  const tail = (1 - level) / 2;
  return { value: quantile(0.5), low: quantile(tail), high: quantile(1 - tail), level };
}

/** Mean and standard deviation of weighted values. */
export function momentsFromWeights({ values, weights }: WeightedValues): { mean: number; sd: number } {
  let mean = 0;
  for (let i = 0; i < values.length; i++) mean += weights[i]! * values[i]!;
  let variance = 0;
  for (let i = 0; i < values.length; i++) variance += weights[i]! * (values[i]! - mean) ** 2;
  return { mean, sd: Math.sqrt(variance) };
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
