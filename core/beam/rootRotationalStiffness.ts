import { factorCholesky, solveLower } from '../cholesky.ts';
import { FitError } from '../errors.ts';
import { dot } from '../vectors.ts';
import type { BeamInput } from './beamInput.ts';
import { buildBeam } from './buildBeam.ts';
import { rootMatrix } from './rootMatrix.ts';
import type { StemShape } from './stemShape.ts';

/** Rotational stiffness of a root in N m/rad for a stem modulus in Pa and the root's own parameter. */
export type RootRotationalStiffness = (modulusPa: number, rootStiffness: number) => number;

/**
 * Static stiffness of a root at ground line: moment there over the section's rotation there, free to move
 * sideways. `spring`: the parameter itself; `coupled` and `matrix`: rotational - cross^2 / lateral, for a
 * rigid butt k D^3/12 or n_h D^4/36; `bedded`: the buried butt alone as a beam on its soil, by the same Ritz functions.
 */
export function rootRotationalStiffness(
  root: BeamInput['root'],
  shape: StemShape,
  shearFlexibility: number | null,
): RootRotationalStiffness {
  if (root.model === 'spring') return (_modulusPa, rootStiffness) => rootStiffness;
  if (root.model !== 'bedded') {
    const { lateral, cross, rotational } = rootMatrix(root);
    return (_modulusPa, rootStiffness) => rootStiffness * (rotational - cross ** 2 / lateral);
  }
  const butt = buildBeam({
    lengthAboveM: 0,
    shape,
    root,
    shearFlexibility,
    massHeightsM: [],
    springHeightsM: [],
    selfWeight: false,
  });
  const n = butt.size;
  const moment = butt.rotationShape(0);
  const stiffness = new Float64Array(n * n);
  const half = new Float64Array(n);
  return (modulusPa, rootStiffness) => {
    addScaled(modulusPa, butt.elastic, rootStiffness, butt.rootSpring, stiffness);
    if (!factorCholesky(n, stiffness)) {
      throw new FitError(
        'beam.root',
        `The butt is not held: E = ${modulusPa} Pa, soil modulus ${rootStiffness}; expected both above 0.`,
        'Check the priors of stem and soil, and the setting depth.',
      );
    }
    // rotation under a unit moment is m' K^-1 m, the square of L^-1 m
    half.set(moment);
    solveLower(stiffness, half);
    return 1 / dot(half, half);
  };
}

/** out = a x + b y */
function addScaled(a: number, x: Float64Array, b: number, y: Float64Array, out: Float64Array): void {
  for (let i = 0; i < out.length; i++) out[i] = a * x[i]! + b * y[i]!;
}
