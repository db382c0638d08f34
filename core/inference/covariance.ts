import { factorCholesky, solveLower, solveUpper } from '../cholesky.ts';
import { FitError } from '../errors.ts';

/** Lower Cholesky factor of a positive definite matrix, row-major; above its diagonal it means nothing. @throws FitError `fit.covariance` */
export function factorLower(matrix: Float64Array, n: number): Float64Array {
  const factor = matrix.slice();
  factorOrRefuse(n, factor);
  return factor;
}

function factorOrRefuse(n: number, matrix: Float64Array): void {
  if (factorCholesky(n, matrix)) return;
  // what is left half factored would be finite, and wrong
  throw new FitError(
    'fit.covariance',
    `The uncertainties of the ${n} data of the fit do not go together: their covariance is not positive definite.`,
    'Look for a pick or a prior that is given far too exactly, or twice.',
  );
}

/** Solves S x = right for S = L L' by its lower factor. */
export function solveFactored(factor: Float64Array, right: ArrayLike<number>): Float64Array {
  return solveUpper(factor, solveLower(factor, Float64Array.from(right)));
}

/** Inverts covariances of n data, one after another, in the same room. */
export type Inverter = {
  /** Of the covariance inverted last, row-major. */
  readonly inverse: Float64Array;
  /** Inverts a positive definite matrix. @returns ln of its determinant @throws FitError `fit.covariance` */
  invert(matrix: Float64Array): number;
};

export function createInverter(n: number): Inverter {
  const factor = new Float64Array(n * n);
  const inverse = new Float64Array(n * n);
  const unit = new Float64Array(n);
  return {
    inverse,
    invert: (matrix) => invertInto(matrix, factor, unit, inverse),
  };
}

/** @param factor, unit - room to work in @returns ln of the determinant */
function invertInto(
  matrix: Float64Array,
  factor: Float64Array,
  unit: Float64Array,
  inverse: Float64Array,
): number {
  const n = unit.length;
  factor.set(matrix);
  factorOrRefuse(n, factor);
  let logDeterminant = 0;
  for (let column = 0; column < n; column++) {
    logDeterminant += 2 * Math.log(factor[column * n + column]!);
    unit.fill(0);
    unit[column] = 1;
    solveUpper(factor, solveLower(factor, unit));
    for (let row = 0; row < n; row++) inverse[row * n + column] = unit[row]!;
  }
  return logDeterminant;
}

/** own + J J' for rows J of sensitivities to independent inputs of unit variance, into `out`. */
export function addInputs(
  own: Float64Array,
  rows: readonly Float64Array[],
  out = new Float64Array(own.length),
): Float64Array {
  const n = rows.length;
  out.set(own);
  for (let a = 0; a < n; a++) {
    const rowA = rows[a]!;
    for (let b = 0; b <= a; b++) {
      const rowB = rows[b]!;
      let sum = 0;
      for (let q = 0; q < rowA.length; q++) sum += rowA[q]! * rowB[q]!;
      out[a * n + b]! += sum;
      if (a !== b) out[b * n + a]! += sum;
    }
  }
  return out;
}
