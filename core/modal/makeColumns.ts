/** Columns of zeros side by side in one array: each on its own would cost an allocation outside the heap. */
export function makeColumns(count: number, length: number): Float64Array[] {
  const all = new Float64Array(count * length);
  return Array.from({ length: count }, (_, i) => all.subarray(i * length, (i + 1) * length));
}
