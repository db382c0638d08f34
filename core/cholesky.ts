/** Lower Cholesky factor of a symmetric matrix, row-major, in place of its lower half; false where it is not positive definite. */
export function factorCholesky(n: number, a: Float64Array): boolean {
  for (let j = 0; j < n; j++) {
    let diagonal = a[j * n + j]!;
    for (let k = 0; k < j; k++) diagonal -= a[j * n + k]! * a[j * n + k]!;
    if (!(diagonal > 0)) return false;
    const root = Math.sqrt(diagonal);
    a[j * n + j] = root;
    for (let i = j + 1; i < n; i++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= a[i * n + k]! * a[j * n + k]!;
      a[i * n + j] = sum / root;
    }
  }
  return true;
}

/** Solves L x = right in place, L the lower factor. @returns `right` */
export function solveLower(factor: Float64Array, right: Float64Array): Float64Array {
  const n = right.length;
  for (let i = 0; i < n; i++) {
    let sum = right[i]!;
    for (let k = 0; k < i; k++) sum -= factor[i * n + k]! * right[k]!;
    right[i] = sum / factor[i * n + i]!;
  }
  return right;
}

/** Solves L' x = right in place, L the lower factor. @returns `right` */
export function solveUpper(factor: Float64Array, right: Float64Array): Float64Array {
  const n = right.length;
  for (let i = n - 1; i >= 0; i--) {
    let sum = right[i]!;
    for (let k = i + 1; k < n; k++) sum -= factor[k * n + i]! * right[k]!;
    right[i] = sum / factor[i * n + i]!;
  }
  return right;
}
