type Rows = readonly (readonly number[])[];

interface Cholesky {
  /** Lower triangle, row by row. */
  readonly lower: Float64Array;
  readonly scale: Float64Array;
}

/**
 * Solves the symmetric positive definite system A x = b of a few unknowns by Cholesky after scaling the
 * diagonal to 1.
 * @param damping - share by which the diagonal is raised first
 * @returns null where A is singular to working precision
 */
export function solveSymmetric(a: Rows, b: readonly number[], damping = 0): number[] | null {
  const factor = factorise(a, damping);
  return factor === null ? null : substitute(factor, b);
}

/**
 * Inverts a symmetric positive definite matrix of a few rows; see {@link solveSymmetric}.
 * @returns null where it is singular to working precision
 */
export function invertSymmetric(a: Rows): number[][] | null {
  const factor = factorise(a, 0);
  if (factor === null) return null;
  return a.map((row, i) =>
    substitute(
      factor,
      row.map((_, j) => (i === j ? 1 : 0)),
    ),
  );
}

function factorise(a: Rows, damping: number): Cholesky | null {
  const n = a.length;
  const scale = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const own = a[i]![i]! * (1 + damping);
    if (!(own > 0 && own < Number.POSITIVE_INFINITY)) return null;
    scale[i] = 1 / Math.sqrt(own);
  }
  const lower = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = i === j ? 1 : a[i]![j]! * scale[i]! * scale[j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * n + k]! * lower[j * n + k]!;
      if (i === j && !(sum > Number.EPSILON)) return null;
      lower[i * n + j] = i === j ? Math.sqrt(sum) : sum / lower[j * n + j]!;
    }
  }
  return { lower, scale };
}

function substitute({ lower, scale }: Cholesky, b: readonly number[]): number[] {
  const n = b.length;
  const x = new Array<number>(n).fill(0);
  for (let i = 0; i < n; i++) {
    let sum = b[i]! * scale[i]!;
    for (let k = 0; k < i; k++) sum -= lower[i * n + k]! * x[k]!;
    x[i] = sum / lower[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let k = i + 1; k < n; k++) sum -= lower[k * n + i]! * x[k]!;
    x[i] = sum / lower[i * n + i]!;
  }
  for (let i = 0; i < n; i++) x[i]! *= scale[i]!;
  return x;
}
