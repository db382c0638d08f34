/**
 * Share of its length that a column must keep after projection, else it adds nothing that the others do not
 * hold.
 */
const INDEPENDENT_SHARE = 1e-12;

/** A column that lost more than this in projection is projected once more: twice is enough (Daniel, Gragg, Kaufman & Stewart, Math. Comp. 30, 1976, from memory). */
const KEPT_SHARE = Math.SQRT1_2;

/** Columns as orthonormal basis times upper triangle. */
export interface Factored {
  readonly basis: readonly Float64Array[];
  /** Row by row; complete only where no column was left out. */
  readonly upper: Float64Array;
  /** Whether each column adds something to those before it. */
  readonly isFull: boolean;
}

/** Inner product of two columns of equal length. Four sums, since one would wait for itself. */
export function multiplyColumns(a: Float64Array, b: Float64Array): number {
  const n = a.length;
  let s0 = 0;
  let s1 = 0;
  let s2 = 0;
  let s3 = 0;
  let i = 0;
  for (; i + 3 < n; i += 4) {
    s0 += a[i]! * b[i]!;
    s1 += a[i + 1]! * b[i + 1]!;
    s2 += a[i + 2]! * b[i + 2]!;
    s3 += a[i + 3]! * b[i + 3]!;
  }
  for (; i < n; i++) s0 += a[i]! * b[i]!;
  return s0 + s1 + (s2 + s3);
}

/** Takes from `column`, in place, what lies in the span of orthonormal `basis`; `shares` receives how much of each. */
export function projectOut(
  column: Float64Array,
  basis: readonly Float64Array[],
  count = basis.length,
  shares: Float64Array | null = null,
): void {
  const n = column.length;
  for (let j = 0; j < count; j++) {
    const unit = basis[j]!;
    const share = multiplyColumns(column, unit);
    for (let i = 0; i < n; i++) column[i]! -= share * unit[i]!;
    if (shares !== null) shares[j] = share;
  }
}

/** The same for a column of real parts, then imaginary parts, and real units that either half may take up. */
export function projectOutHalves(column: Float64Array, units: readonly Float64Array[]): void {
  for (const unit of units) {
    const n = unit.length;
    let re = 0;
    let im = 0;
    let nextRe = 0;
    let nextIm = 0;
    let k = 0;
    for (; k + 1 < n; k += 2) {
      re += unit[k]! * column[k]!;
      im += unit[k]! * column[n + k]!;
      nextRe += unit[k + 1]! * column[k + 1]!;
      nextIm += unit[k + 1]! * column[n + k + 1]!;
    }
    for (; k < n; k++) {
      re += unit[k]! * column[k]!;
      im += unit[k]! * column[n + k]!;
    }
    re += nextRe;
    im += nextIm;
    for (k = 0; k < n; k++) {
      column[k]! -= re * unit[k]!;
      column[n + k]! -= im * unit[k]!;
    }
  }
}

/**
 * Makes the columns, in place, an orthonormal basis of their span by modified Gram-Schmidt, projected again
 * where that is called for. Columns that depend on earlier ones are left out.
 */
export function orthonormalise(columns: readonly Float64Array[]): Factored {
  const size = columns.length;
  const basis: Float64Array[] = [];
  const upper = new Float64Array(size * size);
  const shares = new Float64Array(size);
  for (const [c, column] of columns.entries()) {
    const before = Math.sqrt(multiplyColumns(column, column));
    let length = before;
    for (let pass = 0; pass < 2; pass++) {
      projectOut(column, basis, basis.length, shares);
      for (let j = 0; j < basis.length; j++) upper[j * size + c]! += shares[j]!;
      length = Math.sqrt(multiplyColumns(column, column));
      if (length > KEPT_SHARE * before) break;
    }
    if (!(length > INDEPENDENT_SHARE * before)) continue;
    for (let i = 0; i < column.length; i++) column[i]! /= length;
    upper[basis.length * size + c] = length;
    basis.push(column);
  }
  return { basis, upper, isFull: basis.length === size };
}

/** Coefficients of columns in a sum that has these shares of their basis: back substitution. */
export function solveShares({ upper }: Factored, shares: Float64Array): Float64Array {
  const size = shares.length;
  const solution = new Float64Array(size);
  for (let i = size - 1; i >= 0; i--) {
    let sum = shares[i]!;
    for (let j = i + 1; j < size; j++) sum -= solution[j]! * upper[i * size + j]!;
    solution[i] = sum / upper[i * size + i]!;
  }
  return solution;
}
