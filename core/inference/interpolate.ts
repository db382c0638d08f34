import type { FrequencyTable } from './frequencyTable.ts';

type Axes = Pick<FrequencyTable, 'x' | 'lnModulus'>;

/**
 * Value at (x, ln E) of a quantity kept over a table's axes: cubic (Catmull-Rom) in x, clamped to the ends, and
 * quadratic in ln E, exact for the powers of E that rule all but cables and self-weight.
 */
export function interpolate(axes: Axes, values: Float64Array, x: number, lnModulus: number): number {
  return evaluateRow(axes, rowAt(axes, values, x, new Float64Array(3)), lnModulus);
}

/** Values of a quantity at x on the three nodes of ln E, into `row`. */
export function rowAt({ x: nodes }: Axes, values: Float64Array, x: number, row: Float64Array): Float64Array {
  const last = nodes.length - 1;
  const position = ((x - nodes[0]!) / (nodes[last]! - nodes[0]!)) * last;
  const i = Math.min(Math.max(Math.floor(position), 0), last - 1);
  const t = Math.min(Math.max(position - i, 0), 1);
  const before = 3 * Math.max(i - 1, 0);
  const after = 3 * Math.min(i + 2, last);
  const w0 = ((-t + 2) * t - 1) * t * 0.5;
  const w1 = ((3 * t - 5) * t * t + 2) * 0.5;
  const w2 = ((-3 * t + 4) * t + 1) * t * 0.5;
  const w3 = (t - 1) * t * t * 0.5;
  for (let e = 0; e < 3; e++) {
    row[e] =
      w0 * values[before + e]! +
      w1 * values[3 * i + e]! +
      w2 * values[3 * i + 3 + e]! +
      w3 * values[after + e]!;
  }
  return row;
}

/** Value at ln E from a row of {@link rowAt}. */
export function evaluateRow({ lnModulus: nodes }: Axes, row: Float64Array, lnModulus: number): number {
  const t = (lnModulus - nodes[1]!) / (nodes[1]! - nodes[0]!);
  return ((t * (t - 1)) / 2) * row[0]! + (1 - t * t) * row[1]! + ((t * (t + 1)) / 2) * row[2]!;
}

/** Values at x of `length` arrays that lie side by side over equally spaced nodes; linear, clamped to the ends. */
export function interpolateRow(
  nodes: Float64Array,
  values: Float64Array,
  x: number,
  length: number,
): Float64Array {
  const last = nodes.length - 1;
  const position = ((x - nodes[0]!) / (nodes[last]! - nodes[0]!)) * last;
  const i = Math.min(Math.max(Math.floor(position), 0), last - 1);
  const t = Math.min(Math.max(position - i, 0), 1);
  const row = new Float64Array(length);
  const at = i * length;
  for (let q = 0; q < length; q++) row[q] = values[at + q]! * (1 - t) + values[at + length + q]! * t;
  return row;
}

/** Value at x of an array over equally spaced nodes; linear, clamped to the ends. */
export function interpolateLinear(nodes: Float64Array, values: Float64Array, x: number): number {
  return interpolateRow(nodes, values, x, 1)[0]!;
}
