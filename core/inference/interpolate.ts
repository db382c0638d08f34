import type { FrequencyTable } from './frequencyTable.ts';

type Axes = Pick<FrequencyTable, 'x' | 'lnModulus'>;

/**
 * Value at (x, ln E) of a quantity kept over a table's axes: cubic (Catmull-Rom) in x, clamped to the ends, and
 * quadratic in ln E, exact for the powers of E that rule all but cables and self-weight.
 */
export function interpolate(axes: Axes, values: Float64Array, x: number, lnModulus: number): number {
  return evaluateRow(rowAt(axes, values, x, new Float64Array(3)), modulusPlace(axes, lnModulus));
}

/** Coefficients of a quantity at x as a polynomial of {@link modulusPlace}, lowest first, into `row`. */
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
  const at = (e: number) =>
    w0 * values[before + e]! +
    w1 * values[3 * i + e]! +
    w2 * values[3 * i + 3 + e]! +
    w3 * values[after + e]!;
  const [low, middle, high] = [at(0), at(1), at(2)];
  row[0] = middle;
  row[1] = (high - low) / 2;
  row[2] = (high + low) / 2 - middle;
  return row;
}

/** Place of ln E on a table's three nodes: -1, 0 and 1. */
export function modulusPlace({ lnModulus: nodes }: Axes, lnModulus: number): number {
  return (lnModulus - nodes[1]!) / (nodes[1]! - nodes[0]!);
}

/** Value from a row of {@link rowAt} at a place of {@link modulusPlace}. */
export function evaluateRow(row: Float64Array, place: number): number {
  return row[0]! + place * (row[1]! + place * row[2]!);
}

/** Values at x of `row.length` arrays that lie side by side over equally spaced nodes, into `row`; linear, clamped to the ends. */
export function interpolateRow(
  nodes: Float64Array,
  values: Float64Array,
  x: number,
  row: Float64Array,
): Float64Array {
  const last = nodes.length - 1;
  const position = ((x - nodes[0]!) / (nodes[last]! - nodes[0]!)) * last;
  const i = Math.min(Math.max(Math.floor(position), 0), last - 1);
  const t = Math.min(Math.max(position - i, 0), 1);
  const length = row.length;
  const at = i * length;
  for (let q = 0; q < length; q++) row[q] = values[at + q]! * (1 - t) + values[at + length + q]! * t;
  return row;
}

/** Value at x of an array over equally spaced nodes; linear, clamped to the ends. */
export function interpolateLinear(nodes: Float64Array, values: Float64Array, x: number): number {
  return interpolateRow(nodes, values, x, new Float64Array(1))[0]!;
}
