/**
 * Small loops over vectors. They stand here rather than as functions handed to `reduce` and `map`, of which a new one is made with
 * each call: what an engine has compiled for those is forgotten with them, and compiled anew for the next visit.
 */
export function sumOf(values: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum;
}

export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** Greatest of values that are all above `least`; `least` for none. */
export function greatestOf(values: Float64Array, least = Number.NEGATIVE_INFINITY): number {
  let greatest = least;
  for (let i = 0; i < values.length; i++) greatest = Math.max(greatest, values[i]!);
  return greatest;
}

export function leastOf(values: Float64Array): number {
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < values.length; i++) least = Math.min(least, values[i]!);
  return least;
}

/** How far the values go from a level at most. */
export function greatestDistance(values: Float64Array, level: number): number {
  let greatest = 0;
  for (let i = 0; i < values.length; i++) greatest = Math.max(greatest, Math.abs(values[i]! - level));
  return greatest;
}

/** `count` values from one to another, both among them, at equal steps. */
export function spread(from: number, to: number, count: number): Float64Array {
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) out[i] = from + ((to - from) * i) / (count - 1);
  return out;
}

/** factor values + offset */
export function scaled(values: Float64Array, factor: number, offset = 0): Float64Array {
  const out = new Float64Array(values.length);
  for (let i = 0; i < out.length; i++) out[i] = factor * values[i]! + offset;
  return out;
}
