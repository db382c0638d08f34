/**
 * Share of its length that a column must keep after projection, else it adds nothing that the others do not
 * hold.
 */
const INDEPENDENT_SHARE = 1e-12;

/** Inner product of two columns of equal length. */
export function multiplyColumns(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** Takes from `column`, in place, what lies in the span of orthonormal `basis`. */
export function projectOut(column: Float64Array, basis: readonly Float64Array[], count = basis.length): void {
  for (let j = 0; j < count; j++) {
    const unit = basis[j]!;
    const share = multiplyColumns(column, unit);
    for (let i = 0; i < column.length; i++) column[i]! -= share * unit[i]!;
  }
}

/**
 * Orthonormal basis of the columns' span by modified Gram-Schmidt, each column projected twice (Giraud,
 * Langou, Rozloznik, Comput. Math. Appl. 50, 2005). Columns that depend on earlier ones are left out.
 */
export function orthonormalise(columns: readonly Float64Array[]): Float64Array[] {
  const basis: Float64Array[] = [];
  for (const column of columns) {
    const unit = Float64Array.from(column);
    const before = Math.sqrt(multiplyColumns(unit, unit));
    projectOut(unit, basis);
    projectOut(unit, basis);
    const after = Math.sqrt(multiplyColumns(unit, unit));
    if (!(after > INDEPENDENT_SHARE * before)) continue;
    for (let i = 0; i < unit.length; i++) unit[i]! /= after;
    basis.push(unit);
  }
  return basis;
}

/**
 * Coefficients of the columns in the projection of `data` on their span: back substitution through the basis.
 */
export function solveShares(
  columns: readonly Float64Array[],
  basis: readonly Float64Array[],
  data: Float64Array,
): number[] {
  const shares = new Array<number>(columns.length).fill(0);
  for (let i = basis.length - 1; i >= 0; i--) {
    let sum = multiplyColumns(basis[i]!, data);
    for (let j = i + 1; j < columns.length; j++) sum -= shares[j]! * multiplyColumns(basis[i]!, columns[j]!);
    shares[i] = sum / multiplyColumns(basis[i]!, columns[i]!);
  }
  return shares;
}

/**
 * Solves the symmetric positive definite system A x = b of a few unknowns by Cholesky after scaling the
 * diagonal to 1, and gives the inverse of A beside it.
 * @returns null where A is singular to working precision
 */
export function solveSymmetric(
  a: readonly (readonly number[])[],
  b: readonly number[],
): { solution: number[]; inverse: number[][] } | null {
  const n = b.length;
  const scale = a.map((row, i) => 1 / Math.sqrt(row[i]!));
  const lower = a.map((row) => row.map(() => 0));
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i]![j]! * scale[i]! * scale[j]!;
      for (let k = 0; k < j; k++) sum -= lower[i]![k]! * lower[j]![k]!;
      if (i === j && !(sum > Number.EPSILON)) return null;
      lower[i]![j] = i === j ? Math.sqrt(sum) : sum / lower[j]![j]!;
    }
  }
  const solveFor = (right: (i: number) => number): number[] => {
    const x = new Array<number>(n).fill(0);
    for (let i = 0; i < n; i++) {
      let sum = right(i) * scale[i]!;
      for (let k = 0; k < i; k++) sum -= lower[i]![k]! * x[k]!;
      x[i] = sum / lower[i]![i]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = x[i]!;
      for (let k = i + 1; k < n; k++) sum -= lower[k]![i]! * x[k]!;
      x[i] = sum / lower[i]![i]!;
    }
    return x.map((value, i) => value * scale[i]!);
  };
  return {
    solution: solveFor((i) => b[i]!),
    inverse: b.map((_, column) => solveFor((i) => (i === column ? 1 : 0))),
  };
}
