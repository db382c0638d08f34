import type { FrequencyTable } from './frequencyTable.ts';

/** ln f of a mode at (x, ln E): cubic (Catmull-Rom) in x, quadratic in ln E; clamped to the table's ends in x. */
export function interpolateLogFrequency(
  table: FrequencyTable,
  plane: number,
  mode: number,
  x: number,
  lnModulus: number,
): number {
  return evaluateRow(table, rowAt(table, plane, mode, x, new Float64Array(3)), lnModulus);
}

/**
 * ln f - 1/2 ln E of a mode at x on the table's three nodes of ln E, into `row`: nearly flat, it carries only
 * what cables and self-weight add.
 */
export function rowAt(
  table: FrequencyTable,
  plane: number,
  mode: number,
  x: number,
  row: Float64Array,
): Float64Array {
  const values = table.logFrequency[plane]![mode]!;
  const { index, weights } = cubicWeights(table.x, x);
  for (let e = 0; e < 3; e++) {
    let sum = -table.lnModulus[e]! / 2;
    for (let k = 0; k < 4; k++) sum += weights[k]! * values[clampIndex(index + k, table.x.length) * 3 + e]!;
    row[e] = sum;
  }
  return row;
}

/** ln f at ln E from a row of {@link rowAt}. */
export function evaluateRow(table: FrequencyTable, row: Float64Array, lnModulus: number): number {
  const t = (lnModulus - table.lnModulus[1]!) / (table.lnModulus[1]! - table.lnModulus[0]!);
  const flat = ((t * (t - 1)) / 2) * row[0]! + (1 - t * t) * row[1]! + ((t * (t + 1)) / 2) * row[2]!;
  return flat + lnModulus / 2;
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
