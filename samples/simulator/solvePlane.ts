import { CholeskyDecomposition, EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { assemblePole } from './assemblePole.ts';
import { DEFAULT_MESH, type Mesh, type PoleModel } from './poleModel.ts';

/** Undamped modes of one plane, lowest first, mass-normalised. */
export interface PlaneModes {
  readonly frequenciesHz: readonly number[];
  /** Deflection of mode `index` (from 0) at a height, in 1/sqrt(kg). */
  readonly shapeAt: (index: number, heightM: number) => number;
}

/**
 * Computes the natural frequencies and mode shapes of one bending plane of a standing pole.
 *
 * The flexibility form is solved: with K = C C^T, the eigenvalues of C^-1 M C^-T are 1/omega^2. The lowest modes are
 * then the largest eigenvalues, so they keep their digits where M^-1 K would lose them as elements^4.
 * @param highestHz - modes above are left out
 * @throws Error where the stiffness is not positive definite (no root, or the self-weight buckles the pole)
 */
export function solvePlane(model: PoleModel, highestHz: number, mesh: Mesh = DEFAULT_MESH): PlaneModes {
  const assembled = assemblePole(model, mesh);
  const free = [...assembled.free];
  const stiffness = assembled.stiffness.selection(free, free);
  const mass = assembled.mass.selection(free, free);
  const cholesky = new CholeskyDecomposition(stiffness);
  if (!cholesky.isPositiveDefinite())
    throw new Error('The pole does not stand: its stiffness is not positive definite.');
  const lower = cholesky.lowerTriangularMatrix;
  const half = solveLower(lower, mass);
  const flexibility = solveLower(lower, half.transpose());
  const eigen = new EigenvalueDecomposition(flexibility, { assumeSymmetric: true });

  const order = eigen.realEigenvalues
    .map((value, index) => ({ value, index }))
    .sort((a, b) => b.value - a.value);
  const frequenciesHz: number[] = [];
  const shapes: Float64Array[] = [];
  for (const { value, index } of order) {
    const frequencyHz = 1 / (2 * Math.PI * Math.sqrt(value));
    if (!(frequencyHz <= highestHz)) break;
    frequenciesHz.push(frequencyHz);
    shapes.push(
      spreadShape(lower, eigen.eigenvectorMatrix.getColumn(index), value, free, assembled.stiffness.rows),
    );
  }
  return {
    frequenciesHz,
    shapeAt: (index, heightM) => {
      const { first, weights } = assembled.deflectionAt(heightM);
      return weights.reduce((sum, weight, i) => sum + weight * shapes[index]![first + i]!, 0);
    },
  };
}

/** Solves L X = B for a lower triangular L. */
function solveLower(lower: Matrix, right: Matrix): Matrix {
  const rows = lower.to2DArray();
  const solved = right.to2DArray();
  for (let i = 0; i < rows.length; i++) {
    const target = solved[i]!;
    for (let k = 0; k < i; k++) {
      const factor = rows[i]![k]!;
      if (factor === 0) continue; // the band of a beam is narrow
      const known = solved[k]!;
      for (let j = 0; j < target.length; j++) target[j]! -= factor * known[j]!;
    }
    for (let j = 0; j < target.length; j++) target[j]! /= rows[i]![i]!;
  }
  return new Matrix(solved);
}

/** Turns y of the flexibility form into x = C^-T y / sqrt(1/omega^2), for which x^T M x = 1, over all freedoms. */
function spreadShape(
  lower: Matrix,
  vector: readonly number[],
  eigenvalue: number,
  free: readonly number[],
  freedoms: number,
): Float64Array {
  const solved = Float64Array.from(vector);
  for (let i = solved.length - 1; i >= 0; i--) {
    for (let k = i + 1; k < solved.length; k++) solved[i]! -= lower.get(k, i) * solved[k]!;
    solved[i]! /= lower.get(i, i);
  }
  const spread = new Float64Array(freedoms);
  // The sign of a mode is free; the tip moves to the positive side, so that results do not hang on the library.
  const sign = solved[solved.length - 2]! < 0 ? -1 : 1;
  for (const [i, freedom] of free.entries()) spread[freedom] = (sign * solved[i]!) / Math.sqrt(eigenvalue);
  return spread;
}
