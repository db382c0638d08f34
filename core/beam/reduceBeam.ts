import { InputError } from '../errors.ts';
import { dot, scaled } from '../vectors.ts';
import type { BeamInput } from './beamInput.ts';
import { type BeamSystem, integrateBeam } from './buildBeam.ts';
import { assembleStiffness, type BeamValues, createModeSolver } from './modeSolver.ts';
import { combineFunctions, sampleFunctions } from './sampleFunctions.ts';

/** Roots solved in full lie at most this far apart in ln(root stiffness / E); see tests/beam/reduceBeam for what is left between. */
const ANCHOR_STEP = 1.5;
/**
 * A mode solved in full is left out once what the kept vectors miss of it holds less than this share of its
 * strain energy. Frequencies err by half of that share or less.
 */
const MISSED_ENERGY = 4e-7;

/** A beam in the few shapes that its lowest modes are made of. */
export type ReducedBeam = BeamSystem & {
  /**
   * The same shapes for a beam of slightly other diameters, depth or shear, its masses and springs at the same places:
   * good for first-order changes.
   */
  readonly reduceLike: (changed: BeamInput) => BeamSystem;
};

/**
 * Reduces a beam to the few shapes that its lowest modes are made of between two sets of values, so that each
 * further solution costs an eighth. Modes are solved in full at roots from `low` to `high` (log steps of root
 * stiffness over E), each with the other values at two opposite corners of their ranges; an orthonormal basis of
 * these modes carries the same Ritz method on (Rayleigh-Ritz: the error of a frequency is of second order in
 * that of its shape). Inside the ranges modes 1 to 3 keep 1e-6 or better of the full system's frequency, and deflections where a
 * steady pull acts 1e-3 above half the height, 2e-3 at a third of it, 2e-2 in the lowest metre; outside they may be far off, frequencies
 * always too high, deflections too small.
 * @param low - least of each value
 * @param high - greatest of each; `rootStiffness / modulusPa` of the two bounds the root's axis
 * @param count - modes to be kept, 1 to `system.size`
 * @throws InputError `beam.range` where the ranges are empty or reversed; FitError where a corner cannot stand
 */
export function reduceBeam(
  system: BeamSystem,
  low: BeamValues,
  high: BeamValues,
  count: number,
): ReducedBeam {
  const lowRatio = low.rootStiffness / low.modulusPa;
  const highRatio = high.rootStiffness / high.modulusPa;
  if (!(lowRatio > 0 && highRatio >= lowRatio)) {
    throw new InputError(
      'beam.range',
      `Root stiffness over modulus runs from ${lowRatio} to ${highRatio}; expected a rising range above 0.`,
      'Give low and high values of the beam in this order.',
    );
  }
  // springs over E and masses over density reach their extremes in these two
  const corners: Omit<BeamValues, 'rootStiffness'>[] = [
    { ...low, springsNPerM: high.springsNPerM, densityKgPerM3: high.densityKgPerM3 },
    { ...high, springsNPerM: low.springsNPerM, densityKgPerM3: low.densityKgPerM3 },
  ];
  const steps = Math.max(Math.ceil(Math.log(highRatio / lowRatio) / ANCHOR_STEP), 1);
  const solver = createModeSolver(system, count);
  const shapes: Float64Array[] = [];
  for (let i = 0; i <= steps; i++) {
    const ratio = lowRatio * (highRatio / lowRatio) ** (i / steps);
    for (const corner of corners) {
      solver.solve({ ...corner, rootStiffness: ratio * corner.modulusPa });
      shapes.push(...solver.shapes.map((shape) => shape.slice()));
    }
  }
  // the stiffest beam of the range bounds the energy of any vector from above
  const stiffest = new Float64Array(system.size ** 2);
  assembleStiffness(system, { ...high, densityKgPerM3: 0, massesKg: high.massesKg.map(() => 0) }, stiffest);
  const basis = orthonormalBasis(shapes, stiffest);
  const reduceLike = (input: BeamInput) =>
    integrateBeam(input, combineFunctions(sampleFunctions(input), basis));
  return { ...reduceLike(system.input), reduceLike };
}

/** Vectors orthonormal in the energy of `stiffness`, the worst represented shape taken first. Shapes have energy 1 or more in it. */
function orthonormalBasis(modes: readonly Float64Array[], stiffness: Float64Array): Float64Array[] {
  const basis: Float64Array[] = [];
  const images: Float64Array[] = [];
  const work = new Float64Array(modes[0]!.length);
  const missed = modes.map((mode) => dot(mode, multiply(stiffness, mode, work)));
  for (;;) {
    const worst = missed.indexOf(Math.max(...missed));
    if (!(missed[worst]! > MISSED_ENERGY)) return basis;
    missed[worst] = 0;
    const vector = modes[worst]!.slice();
    // twice: what rounding leaves of a large part after the first time would spoil a small rest
    for (let time = 0; time < 2; time++) {
      for (const [i, kept] of basis.entries()) subtract(vector, kept, dot(images[i]!, vector));
    }
    const image = multiply(stiffness, vector, work);
    const energy = dot(vector, image);
    if (!(energy > MISSED_ENERGY)) continue;
    const scale = 1 / Math.sqrt(energy);
    basis.push(scaled(vector, scale));
    images.push(scaled(image, scale));
    for (const [i, mode] of modes.entries()) {
      missed[i] = Math.max(missed[i]! - dot(images.at(-1)!, mode) ** 2, 0);
    }
  }
}

function multiply(matrix: Float64Array, vector: Float64Array, out: Float64Array): Float64Array {
  const n = vector.length;
  for (let i = 0; i < n; i++) {
    let sum = 0;
    for (let j = 0; j < n; j++) sum += matrix[i * n + j]! * vector[j]!;
    out[i] = sum;
  }
  return out;
}

function subtract(from: Float64Array, vector: Float64Array, factor: number): void {
  for (let i = 0; i < from.length; i++) from[i]! -= factor * vector[i]!;
}
