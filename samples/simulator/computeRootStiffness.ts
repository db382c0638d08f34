import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { assemblePole } from './assemblePole.ts';
import { DEFAULT_MESH, type PoleModel } from './poleModel.ts';

/** What the ground line does under a static force and moment there. */
export interface RootStiffness {
  /** Moment at the ground line over the rotation there, lateral movement free. */
  readonly rotationalNmPerRad: number;
  /** Deflection per force, in m/N. */
  readonly lateralMPerN: number;
  /** Rotation per force (and deflection per moment), in rad/N. */
  readonly crossRadPerN: number;
}

/**
 * Computes the static stiffness of the root at the ground line by loading the finite-element pole there.
 * Springs above ground and self-weight are left out, so that the root alone answers.
 */
export function computeRootStiffness(model: PoleModel): RootStiffness {
  const assembled = assemblePole({ ...model, springs: [], gravityMPerS2: 0 }, DEFAULT_MESH);
  const free = [...assembled.free];
  const deflection = free.indexOf(2 * assembled.groundNode);
  const rotation = free.indexOf(2 * assembled.groundNode + 1);
  const loads = Matrix.zeros(free.length, 2);
  loads.set(deflection, 0, 1);
  loads.set(rotation, 1, 1);
  const moved = new CholeskyDecomposition(assembled.stiffness.selection(free, free)).solve(loads);
  return {
    rotationalNmPerRad: 1 / moved.get(rotation, 1),
    lateralMPerN: moved.get(deflection, 0),
    crossRadPerN: moved.get(rotation, 0),
  };
}
