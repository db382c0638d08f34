import type { FrequencyTable } from './frequencyTable.ts';

/**
 * ln f of a mode at (x, ln E): cubic (Catmull-Rom) in x, quadratic in ln E; clamped to the table's ends in x.
 */
export function interpolateLogFrequency(
  table: FrequencyTable,
  plane: number,
  mode: number,
  x: number,
  lnModulus: number,
): number {
  const values = table.logFrequency[plane]![mode]!;
  const { index, weights } = cubicWeights(table.x, x);
  const [e0, e1] = [table.lnModulus[0]!, table.lnModulus[1]!];
  // ln f - 1/2 ln E is nearly flat: the quadratic carries only what cables and self-weight add
  const t = (lnModulus - e1) / (e1 - e0);
  const wLow = (t * (t - 1)) / 2;
  const wMid = 1 - t * t;
  const wHigh = (t * (t + 1)) / 2;
  let total = 0;
  for (let k = 0; k < 4; k++) {
    const row = clampIndex(index + k, table.x.length) * 3;
    const flat =
      wLow * (values[row]! - e0 / 2) +
      wMid * (values[row + 1]! - e1 / 2) +
      wHigh * (values[row + 2]! - table.lnModulus[2]! / 2);
    total += weights[k]! * flat;
  }
  return total + lnModulus / 2;
}

/** Value at x of an array over the table's x nodes, `stride` apart from `offset`; linear. */
export function interpolateLinear(
  nodes: Float64Array,
  values: Float64Array,
  x: number,
  stride = 1,
  offset = 0,
): number {
  const last = nodes.length - 1;
  const position = ((x - nodes[0]!) / (nodes[last]! - nodes[0]!)) * last;
  const i = Math.min(Math.max(Math.floor(position), 0), last - 1);
  const t = Math.min(Math.max(position - i, 0), 1);
  return values[i * stride + offset]! * (1 - t) + values[(i + 1) * stride + offset]! * t;
}

const weights = new Float64Array(4);

function cubicWeights(nodes: Float64Array, x: number): { index: number; weights: Float64Array } {
  const last = nodes.length - 1;
  const position = ((x - nodes[0]!) / (nodes[last]! - nodes[0]!)) * last;
  const i = Math.min(Math.max(Math.floor(position), 0), last - 1);
  const t = Math.min(Math.max(position - i, 0), 1);
  weights[0] = ((-t + 2) * t - 1) * t * 0.5;
  weights[1] = ((3 * t - 5) * t * t + 2) * 0.5;
  weights[2] = ((-3 * t + 4) * t + 1) * t * 0.5;
  weights[3] = (t - 1) * t * t * 0.5;
  return { index: i - 1, weights };
}

function clampIndex(index: number, length: number): number {
  return Math.min(Math.max(index, 0), length - 1);
}
