/**
 * Adds the integrals of products of functions, sum_q w_q f_i(q) f_j(q), to a symmetric matrix. Functions that are zero
 * at all points, and points at either end that weigh nothing, are passed over.
 * @param matrix - row-major, size x size; its lower half is made the mirror of the upper
 * @param values - function i at all points from i * weights.length on
 * @param weights - one a point
 */
export function addGram(matrix: Float64Array, values: Float64Array, weights: Float64Array): void {
  const points = weights.length;
  const n = values.length / points;
  let from = 0;
  let to = points;
  while (from < to && weights[from] === 0) from++;
  while (to > from && weights[to - 1] === 0) to--;
  const acting: number[] = [];
  for (let i = 0; i < n; i++) if (isAnyNonZero(values, i * points + from, i * points + to)) acting.push(i);
  const weighted = new Float64Array(points);
  for (let a = 0; a < acting.length; a++) {
    const i = acting[a]!;
    for (let q = from; q < to; q++) weighted[q] = weights[q]! * values[i * points + q]!;
    for (let b = a; b < acting.length; b++) {
      const j = acting[b]!;
      const base = j * points;
      // two sums side by side: one alone would wait for each addition to end before the next
      let even = 0;
      let odd = 0;
      let q = from;
      for (; q + 1 < to; q += 2) {
        even += weighted[q]! * values[base + q]!;
        odd += weighted[q + 1]! * values[base + q + 1]!;
      }
      if (q < to) even += weighted[q]! * values[base + q]!;
      matrix[i * n + j]! += even + odd;
      matrix[j * n + i] = matrix[i * n + j]!;
    }
  }
}

function isAnyNonZero(values: Float64Array, from: number, to: number): boolean {
  for (let at = from; at < to; at++) if (values[at] !== 0) return true;
  return false;
}
