/** In place, the lower Cholesky factor of the leading `count` rows of a Hermitian matrix with rows of `size`; false where it is not positive. */
export function factoriseHermitian(re: Float64Array, im: Float64Array, size: number, count: number): boolean {
  for (let i = 0; i < count; i++) {
    for (let j = 0; j <= i; j++) {
      let sumRe = re[i * size + j]!;
      let sumIm = im[i * size + j]!;
      for (let k = 0; k < j; k++) {
        const a = re[i * size + k]!;
        const b = im[i * size + k]!;
        const c = re[j * size + k]!;
        const d = im[j * size + k]!;
        sumRe -= a * c + b * d;
        sumIm -= b * c - a * d;
      }
      if (i === j) {
        if (!(sumRe > 0)) return false;
        re[i * size + i] = Math.sqrt(sumRe);
        im[i * size + i] = 0;
      } else {
        const pivot = re[j * size + j]!;
        re[i * size + j] = sumRe / pivot;
        im[i * size + j] = sumIm / pivot;
      }
    }
  }
  return true;
}

/** Solves, in place, with the factor of {@link factoriseHermitian} for `columns` right sides kept in rows of `columns`. */
export function solveHermitian(
  lowerRe: Float64Array,
  lowerIm: Float64Array,
  size: number,
  count: number,
  re: Float64Array,
  im: Float64Array,
  columns: number,
): void {
  for (let i = 0; i < count; i++) {
    for (let k = 0; k < i; k++) subtractRow(i, k, lowerRe[i * size + k]!, lowerIm[i * size + k]!);
    scaleRow(i, 1 / lowerRe[i * size + i]!);
  }
  for (let i = count - 1; i >= 0; i--) {
    for (let k = i + 1; k < count; k++) subtractRow(i, k, lowerRe[k * size + i]!, -lowerIm[k * size + i]!);
    scaleRow(i, 1 / lowerRe[i * size + i]!);
  }

  function subtractRow(to: number, from: number, a: number, b: number): void {
    for (let c = 0; c < columns; c++) {
      const x = re[from * columns + c]!;
      const y = im[from * columns + c]!;
      re[to * columns + c]! -= a * x - b * y;
      im[to * columns + c]! -= a * y + b * x;
    }
  }

  function scaleRow(row: number, factor: number): void {
    for (let c = 0; c < columns; c++) {
      re[row * columns + c]! *= factor;
      im[row * columns + c]! *= factor;
    }
  }
}
