import { Matrix, solve } from 'ml-matrix';
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
  const elastic = Matrix.from1DArray(n, n, butt.elastic);
  const soil = Matrix.from1DArray(n, n, butt.rootSpring);
  const moment = Matrix.columnVector(butt.rotationShape(0));
  return (modulusPa, rootStiffness) => {
    const stiffness = Matrix.add(Matrix.mul(elastic, modulusPa), Matrix.mul(soil, rootStiffness));
    return 1 / moment.dot(solve(stiffness, moment));
  };
}
