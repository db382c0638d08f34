/**
 * Computes every `step`-th output of a symmetric filter, the first centred where the weights reach to sample 0. Four sums side by
 * side: one alone would wait for each addition to end before the next.
 * @param block - `(out.length - 1) * step + taps.length` samples or more
 * @param taps - an odd number of weights, symmetric about the middle one
 * @param out - overwritten
 */
export function filterBlock(block: Float64Array, taps: Float64Array, step: number, out: Float64Array): void {
  const reach = taps.length >> 1;
  const middle = taps[reach]!;
  const half = taps.subarray(reach);
  const inFours = reach - (reach % 4);
  for (let i = 0; i < out.length; i++) {
    const at = i * step + reach;
    let a = middle * block[at]!;
    let b = 0;
    let c = 0;
    let d = 0;
    for (let j = 1; j <= inFours; j += 4) {
      a += half[j]! * (block[at - j]! + block[at + j]!);
      b += half[j + 1]! * (block[at - j - 1]! + block[at + j + 1]!);
      c += half[j + 2]! * (block[at - j - 2]! + block[at + j + 2]!);
      d += half[j + 3]! * (block[at - j - 3]! + block[at + j + 3]!);
    }
    for (let j = inFours + 1; j <= reach; j++) a += half[j]! * (block[at - j]! + block[at + j]!);
    out[i] = a + b + (c + d);
  }
}
