import { type BeamSystem, STANDARD_GRAVITY } from './buildBeam.ts';

/** Two heights above ground line, in m. */
export type ShapeHeights = { readonly heightM: number; readonly referenceHeightM: number };

/**
 * Ratio of a mode's deflection at one height to that at another, signed.
 * @param shape - the mode's coefficients, a row of `shapes` of the solver of the same system
 * @param sensedAtHz - the mode's frequency, where the ratio is wanted as accelerometers sense it: fixed across the
 * stem they lean with it by its slope theta = w' - gamma of the section and read omega^2 w + g theta, so that below a few Hz the
 * rotation counts. @default no lean
 */
export function shapeRatio(
  system: BeamSystem,
  shape: Float64Array,
  { heightM, referenceHeightM }: ShapeHeights,
  sensedAtHz = Number.POSITIVE_INFINITY,
): number {
  const leanM = STANDARD_GRAVITY / (2 * Math.PI * sensedAtHz) ** 2;
  const motionAt = (atM: number): number => {
    const deflection = system.deflectionShape(atM);
    const rotation = system.rotationShape(atM);
    return shape.reduce((sum, a, i) => sum + a * (deflection[i]! + leanM * rotation[i]!), 0);
  };
  return motionAt(heightM) / motionAt(referenceHeightM);
}
