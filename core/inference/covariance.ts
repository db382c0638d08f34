/** Lower Cholesky factor of a positive definite matrix, row-major. */
export function factorLower(matrix: Float64Array, n: number): Float64Array {
  const factor = new Float64Array(n * n);
  for (let a = 0; a < n; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = matrix[a * n + b]!;
      for (let k = 0; k < b; k++) sum -= factor[a * n + k]! * factor[b * n + k]!;
      factor[a * n + b] = a === b ? Math.sqrt(sum) : sum / factor[b * n + b]!;
    }
  }
  return factor;
}

/** Solves S x = right for S = L L' by its lower factor. */
export function solveFactored(factor: Float64Array, right: ArrayLike<number>): Float64Array {
  return solveInPlace(factor, Float64Array.from(right));
}

function solveInPlace(factor: Float64Array, out: Float64Array): Float64Array {
  const n = out.length;
  for (let a = 0; a < n; a++) {
    for (let k = 0; k < a; k++) out[a]! -= factor[a * n + k]! * out[k]!;
    out[a]! /= factor[a * n + a]!;
  }
  for (let a = n - 1; a >= 0; a--) {
    for (let k = a + 1; k < n; k++) out[a]! -= factor[k * n + a]! * out[k]!;
    out[a]! /= factor[a * n + a]!;
  }
  return out;
}

/** Inverse of a positive definite matrix and ln of its determinant. */
export function invertCovariance(
  matrix: Float64Array,
  n: number,
): { inverse: Float64Array; logDeterminant: number } {
  const factor = factorLower(matrix, n);
  const inverse = new Float64Array(n * n);
  const unit = new Float64Array(n);
  let logDeterminant = 0;
  for (let column = 0; column < n; column++) {
    logDeterminant += 2 * Math.log(factor[column * n + column]!);
    unit.fill(0);
    unit[column] = 1;
    solveInPlace(factor, unit);
    for (let row = 0; row < n; row++) inverse[row * n + column] = unit[row]!;
  }
  return { inverse, logDeterminant };
}

/** own + J J' for rows J of sensitivities to independent inputs of unit variance. */
export function addInputs(own: Float64Array, rows: readonly Float64Array[]): Float64Array {
  const n = rows.length;
  const out = own.slice();
  for (let a = 0; a < n; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = 0;
      for (let q = 0; q < rows[a]!.length; q++) sum += rows[a]![q]! * rows[b]![q]!;
      out[a * n + b]! += sum;
      if (a !== b) out[b * n + a]! += sum;
    }
  }
  return out;
}
