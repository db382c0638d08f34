import { scaled } from '../vectors.ts';
import { addGram } from './addGram.ts';
import type { BeamInput } from './beamInput.ts';
import { gaussLegendre } from './quadrature.ts';
import { rootMatrix } from './rootMatrix.ts';
import { type SampledFunctions, sampleFunctions } from './sampleFunctions.ts';
import { areaM2, diameterAtM, type StemShape, secondMomentM4 } from './stemShape.ts';

/**
 * Matrices of one beam, split by the parameters that scale them, row-major `size` x `size`:
 * K = E elastic + root rootSpring + sum_j spring_j shape_j shape_j' - rho weight - sum_i mass_i massWeight_i,
 * M = rho inertia + sum_i mass_i shape_i shape_i'.
 */
export type BeamSystem = {
  readonly size: number;
  readonly elastic: Float64Array;
  readonly rootSpring: Float64Array;
  readonly weight: Float64Array;
  readonly inertia: Float64Array;
  readonly massShapes: readonly Float64Array[];
  readonly massWeights: readonly Float64Array[];
  readonly springShapes: readonly Float64Array[];
  /** Deflection at a height (m) as a linear form of the coefficients. */
  readonly deflectionShape: (heightM: number) => Float64Array;
  /** Section rotation at a height (m), likewise. */
  readonly rotationShape: (heightM: number) => Float64Array;
  /** Curvature at a height (m), in 1/m, likewise. */
  readonly curvatureShape: (heightM: number) => Float64Array;
  readonly input: BeamInput;
};

/** In m/s2 (ISO 80000-3). */
export const STANDARD_GRAVITY = 9.80665;
/** Of each piece of a stem above a height: exact for the area of a cone. */
const AREA_POINTS = 2;

/**
 * Ritz system of a tapered stem on a root, in the functions of createRitzFunctions. Energies: 1/2 int E I theta'^2,
 * 1/2 int kappa G A gamma^2, 1/2 int k w^2 in the soil, -1/2 int P w'^2 of the weight above; rho A w^2 and rho I theta^2 in
 * inertia (Timoshenko 1921, from memory). Soil carries the weight of the buried part, which therefore has no term.
 */
export function buildBeam(input: BeamInput): BeamSystem {
  return integrateBeam(input, sampleFunctions(input));
}

/** The system of {@link buildBeam} in given functions, which the same beam or one of slightly other geometry was composed of. */
export function integrateBeam(input: BeamInput, functions: SampledFunctions): BeamSystem {
  const { root, lengthAboveM, shape } = input;
  const { size, deflectionShape, rotationShape, curvatureShape } = functions;
  const matrix = () => new Float64Array(size * size);
  const [elastic, rootSpring, weight, inertia] = [matrix(), matrix(), matrix(), matrix()];
  const massWeights = input.massHeightsM.map(matrix);

  const { areas, secondMoments } = weighSections(shape, functions);
  addGram(elastic, functions.curvatures, secondMoments);
  addGram(inertia, functions.deflections, areas);
  if (input.shearFlexibility !== null) {
    addGram(elastic, functions.shears, scaled(areas, 1 / input.shearFlexibility));
    addGram(inertia, functions.rotations, secondMoments);
  }
  if (root.model === 'bedded')
    addGram(rootSpring, functions.deflections, weighSoil(root.subgrade, functions));
  if (input.selfWeight) {
    addGram(weight, functions.slopes, weighStemAbove(shape, lengthAboveM, functions));
    for (const [i, massHeightM] of input.massHeightsM.entries())
      addGram(massWeights[i]!, functions.slopes, weighBelow(massHeightM, functions));
  }
  if (root.model !== 'bedded') addRoot(rootSpring, root, functions);

  return {
    ...{ size, elastic, rootSpring, weight, inertia },
    massShapes: input.massHeightsM.map(deflectionShape),
    massWeights,
    springShapes: input.springHeightsM.map(deflectionShape),
    ...{ deflectionShape, rotationShape, curvatureShape, input },
  };
}

/** Adds what a root that acts at the lowest point holds, per unit of its parameter. */
function addRoot(
  rootSpring: Float64Array,
  root: Exclude<BeamInput['root'], { model: 'bedded' }>,
  { size, lowestDeflections: w, lowestRotations: theta }: SampledFunctions,
): void {
  const { lateral, cross, rotational } =
    root.model === 'spring' ? { lateral: 0, cross: 0, rotational: 1 } : rootMatrix(root);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      rootSpring[i * size + j]! +=
        lateral * w[i]! * w[j]! +
        cross * (w[i]! * theta[j]! + theta[i]! * w[j]!) +
        rotational * theta[i]! * theta[j]!;
    }
  }
}

type Points = Pick<SampledFunctions, 'heightsM' | 'stepsM'>;

/** Integration weights of a section's area and second moment. */
function weighSections(shape: StemShape, { heightsM, stepsM }: Points) {
  const areas = new Float64Array(stepsM.length);
  const secondMoments = new Float64Array(stepsM.length);
  for (let q = 0; q < stepsM.length; q++) {
    const diameterM = diameterAtM(shape, heightsM[q]!);
    areas[q] = areaM2(diameterM) * stepsM[q]!;
    secondMoments[q] = secondMomentM4(diameterM) * stepsM[q]!;
  }
  return { areas, secondMoments };
}

/** Of the soil beside a butt, per unit of its modulus. */
function weighSoil(subgrade: 'linear' | 'constant', { heightsM, stepsM }: Points): Float64Array {
  const weights = new Float64Array(stepsM.length);
  for (let q = 0; q < weights.length && heightsM[q]! < 0; q++)
    weights[q] = (subgrade === 'linear' ? -heightsM[q]! : 1) * stepsM[q]!;
  return weights;
}

/** Of the weight that the stem above a section puts on it, per unit of density. */
function weighStemAbove(shape: StemShape, tipM: number, { heightsM, stepsM }: Points): Float64Array {
  const weights = new Float64Array(stepsM.length);
  for (let q = 0; q < weights.length; q++)
    if (heightsM[q]! >= 0)
      weights[q] = STANDARD_GRAVITY * volumeAbove(shape, tipM, heightsM[q]!) * stepsM[q]!;
  return weights;
}

/** Of the weight of a mass on the sections between it and ground line, per kg. */
function weighBelow(massHeightM: number, { heightsM, stepsM }: Points): Float64Array {
  const weights = new Float64Array(stepsM.length);
  for (let q = 0; q < weights.length; q++)
    if (heightsM[q]! >= 0 && heightsM[q]! < massHeightM) weights[q] = STANDARD_GRAVITY * stepsM[q]!;
  return weights;
}

/** Volume in m3 of the stem above a height in m. */
function volumeAbove(shape: StemShape, tipM: number, heightM: number): number {
  const { heightsM } = shape;
  const rule = gaussLegendre(AREA_POINTS);
  let volume = 0;
  let from = heightM;
  for (let station = 0; station <= heightsM.length; station++) {
    const to = station < heightsM.length ? heightsM[station]! : tipM;
    if (to <= from || to > tipM) continue;
    for (let q = 0; q < AREA_POINTS; q++) {
      const at = from + (to - from) * rule.nodes[q]!;
      volume += areaM2(diameterAtM(shape, at)) * (to - from) * rule.weights[q]!;
    }
    from = to;
  }
  return volume;
}
