/**
 * Beam: bending vibration of a tapered stem on a root. Geometry, roots, attachments and self-weight go in;
 * natural frequencies, mode shapes and their sensitivities come out. A Ritz method on exact integrals,
 * with shear and rotary inertia; no species, no probabilities, no recordings here.
 */
export type { BeamInput } from './beamInput.ts';
export { type BeamSystem, buildBeam } from './buildBeam.ts';
export { type BeamValues, createModeSolver, type ModeSolver } from './modeSolver.ts';
export { reduceBeam } from './reduceBeam.ts';
export type { GivenRoot, RootForm } from './rootMatrix.ts';
export { rootRotationalStiffness } from './rootRotationalStiffness.ts';
export { type ShapeHeights, shapeRatio } from './shapeRatio.ts';
export { type StaticPull, staticDeflection } from './staticDeflection.ts';
export { fitStemShape, type StemShape, secondMomentM4 } from './stemShape.ts';
export { type FieldEnergies, weighEnergies } from './weighEnergies.ts';
