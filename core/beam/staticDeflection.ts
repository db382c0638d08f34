import { Matrix, solve } from 'ml-matrix';
import type { BeamSystem } from './buildBeam.ts';
import { assembleStiffness, type BeamValues } from './modeSolver.ts';

/** A steady horizontal force on the stem and the height where its deflection is read. */
export type StaticPull = { readonly forceN: number; readonly heightM: number; readonly readAtM: number };

/**
 * Deflection in m under a steady horizontal pull: K a = F s(height), w = s(height read)' a. Self-weight and cables act
 * as in the modes (wood creeps and soil yields under a slow pull, which nothing here knows of). To 1e-9 for
 * pulls at the tip and at heights of masses or springs. Elsewhere the Ritz functions have no kink and the deflection
 * is low by 1e-5 near the tip to 5e-3 in the lowest metre: give the height of the pull a spring of 0 N/m.
 * @param system - a full beam: a reduced one knows the shapes of its modes only
 */
export function staticDeflection(system: BeamSystem, values: BeamValues, pull: StaticPull): number {
  const n = system.size;
  const stiffness = new Float64Array(n * n);
  assembleStiffness(system, values, stiffness);
  const load = Matrix.columnVector(system.deflectionShape(pull.heightM)).mul(pull.forceN);
  const read = Matrix.columnVector(system.deflectionShape(pull.readAtM));
  return read.dot(solve(Matrix.from1DArray(n, n, stiffness), load));
}
