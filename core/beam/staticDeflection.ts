import { solveLower } from '../cholesky.ts';
import { dot } from '../vectors.ts';
import type { BeamSystem } from './buildBeam.ts';
import { type BeamValues, factorStiffness } from './modeSolver.ts';

/** A steady horizontal force on the stem and the height where its deflection is read. */
export type StaticPull = { readonly forceN: number; readonly heightM: number; readonly readAtM: number };

/**
 * Deflection in m under a steady horizontal pull: K a = F s(height), w = s(height read)' a. Self-weight and cables act
 * as in the modes (wood creeps and soil yields under a slow pull, which nothing here knows of). To 1e-9 for
 * pulls at the tip and at heights of masses or springs. Elsewhere the Ritz functions have no kink and the deflection
 * is low by 1e-5 near the tip to 5e-3 in the lowest metre: give the height of the pull a spring of 0 N/m.
 * @param system - a full beam, or a reduced one, which bends too little by what {@link reduceBeam} says
 * @throws FitError `beam.unstable` where the stem would not stand
 */
export function staticDeflection(system: BeamSystem, values: BeamValues, pull: StaticPull): number {
  const factor = new Float64Array(system.size ** 2);
  factorStiffness(system, values, factor);
  // s' K^-1 f = (L^-1 s)' (L^-1 f)
  const load = solveLower(factor, system.deflectionShape(pull.heightM));
  const read = solveLower(factor, system.deflectionShape(pull.readAtM));
  return dot(load, read) * pull.forceN;
}
