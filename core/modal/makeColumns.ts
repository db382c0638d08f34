/** Columns of zeros side by side in one array: each on its own would cost an allocation outside the heap. */
export function makeColumns(count: number, length: number): Float64Array[] {
  const all = new Float64Array(count * length);
  const columns: Float64Array[] = [];
  for (let i = 0; i < count; i++) columns.push(all.subarray(i * length, (i + 1) * length));
  return columns;
}
