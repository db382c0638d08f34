import { addGram } from './addGram.ts';
import type { BeamInput } from './beamInput.ts';
import { gaussLegendre } from './quadrature.ts';
import { createRitzFunctions } from './ritzFunctions.ts';
import { rootMatrix } from './rootMatrix.ts';
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
/** Exact for products of two basis integrals with the quartic of a tapered second moment. */
const QUADRATURE_POINTS = 18;

/**
 * Ritz system of a tapered stem on a root, in the functions of createRitzFunctions. Energies: 1/2 int E I theta'^2,
 * 1/2 int kappa G A gamma^2, 1/2 int k w^2 in the soil, -1/2 int P w'^2 of the weight above; rho A w^2 and rho I theta^2 in
 * inertia (Timoshenko 1921, from memory). Soil carries the weight of the buried part, which therefore has no term.
 */
export function buildBeam(input: BeamInput): BeamSystem {
  const { root, lengthAboveM } = input;
  const depthM = root.model === 'bedded' ? root.settingDepthM : 0;
  const lengthM = lengthAboveM + depthM;
  const { size, firstRotation, curvature, rotation, shear, deflection, slope, evaluateAt } =
    createRitzFunctions(input);

  const deflectionShape = (heightM: number): Float64Array => {
    evaluateAt((heightM + depthM) / lengthM);
    return deflection.slice();
  };
  const rotationShape = (heightM: number): Float64Array => {
    evaluateAt((heightM + depthM) / lengthM);
    return rotation.slice();
  };
  const curvatureShape = (heightM: number): Float64Array => {
    evaluateAt((heightM + depthM) / lengthM);
    return curvature.slice();
  };

  const elastic = new Float64Array(size * size);
  const rootSpring = new Float64Array(size * size);
  const weight = new Float64Array(size * size);
  const inertia = new Float64Array(size * size);
  const massWeights = input.massHeightsM.map(() => new Float64Array(size * size));

  const { heightsM, stepsM } = quadraturePoints(input);
  const count = heightsM.length;
  const sampled = (field: Float64Array) => ({ field, values: new Float64Array(size * count) });
  const curvatures = sampled(curvature);
  const rotations = sampled(rotation);
  const shears = sampled(shear);
  const deflections = sampled(deflection);
  const slopes = sampled(slope);
  const all = [curvatures, rotations, shears, deflections, slopes];
  for (let q = 0; q < count; q++) {
    evaluateAt((heightsM[q]! + depthM) / lengthM);
    for (const { field, values } of all) for (let i = 0; i < size; i++) values[i * count + q] = field[i]!;
  }
  const weigh = (perLength: (heightM: number) => number) =>
    stepsM.map((stepM, q) => perLength(heightsM[q]!) * stepM);
  const areas = weigh((heightM) => areaM2(diameterAtM(input.shape, heightM)));
  const secondMoments = weigh((heightM) => secondMomentM4(diameterAtM(input.shape, heightM)));
  addGram(elastic, curvatures.values, secondMoments);
  addGram(inertia, deflections.values, areas);
  if (input.shearFlexibility !== null) {
    const flexibility = input.shearFlexibility;
    addGram(
      elastic,
      shears.values,
      areas.map((area) => area / flexibility),
    );
    addGram(inertia, rotations.values, secondMoments);
  }
  if (root.model === 'bedded') {
    const modulusShare = (heightM: number) => (root.subgrade === 'linear' ? -heightM : 1);
    addGram(
      rootSpring,
      deflections.values,
      weigh((heightM) => (heightM < 0 ? modulusShare(heightM) : 0)),
    );
  }
  if (input.selfWeight) {
    const areaAbove = areaIntegral(input.shape, lengthAboveM);
    addGram(
      weight,
      slopes.values,
      weigh((heightM) => (heightM < 0 ? 0 : STANDARD_GRAVITY * areaAbove(heightM))),
    );
    for (const [i, massHeightM] of input.massHeightsM.entries()) {
      addGram(
        massWeights[i]!,
        slopes.values,
        weigh((heightM) => (heightM >= 0 && heightM < massHeightM ? STANDARD_GRAVITY : 0)),
      );
    }
  }

  if (root.model === 'spring') rootSpring[firstRotation * size + firstRotation] = 1;
  if (root.model === 'coupled' || root.model === 'matrix') {
    const { lateral, cross, rotational } = rootMatrix(root);
    rootSpring[0] = lateral;
    rootSpring[firstRotation] = cross;
    rootSpring[firstRotation * size] = cross;
    rootSpring[firstRotation * size + firstRotation] = rotational;
  }

  return {
    size,
    elastic,
    rootSpring,
    weight,
    inertia,
    massShapes: input.massHeightsM.map(deflectionShape),
    massWeights,
    springShapes: input.springHeightsM.map(deflectionShape),
    deflectionShape,
    rotationShape,
    curvatureShape,
    input,
  };
}

/** Points of quadrature along a beam, from the lowest up: heights and the lengths that they stand for, in m. */
function quadraturePoints(input: BeamInput): { heightsM: Float64Array; stepsM: Float64Array } {
  const rule = gaussLegendre(QUADRATURE_POINTS);
  const breaks = breakHeights(input);
  const spans = breaks.slice(1).map((to, b) => ({ from: breaks[b]!, span: to - breaks[b]! }));
  return {
    heightsM: Float64Array.from(
      spans.flatMap(({ from, span }) => [...rule.nodes].map((node) => from + span * node)),
    ),
    stepsM: Float64Array.from(spans.flatMap(({ span }) => [...rule.weights].map((share) => span * share))),
  };
}

/** Heights in m, from the lowest point to the tip, between which all that is integrated along a beam is smooth. */
export function breakHeights(input: BeamInput): number[] {
  const depthM = input.root.model === 'bedded' ? input.root.settingDepthM : 0;
  const inside = [0, ...input.massHeightsM, ...input.springHeightsM, ...input.shape.heightsM];
  const kept = inside.filter((h) => h > -depthM && h < input.lengthAboveM);
  return [...new Set([-depthM, ...kept, input.lengthAboveM])].sort((a, b) => a - b);
}

/** Volume in m3 of the stem above a height in m, as a function of the height. */
function areaIntegral(shape: StemShape, tipM: number): (heightM: number) => number {
  const rule = gaussLegendre(QUADRATURE_POINTS);
  return (heightM) => {
    const inner = shape.heightsM.filter((h) => h > heightM && h < tipM);
    const breaks = [heightM, ...inner, tipM];
    let volume = 0;
    for (let b = 0; b + 1 < breaks.length; b++) {
      const span = breaks[b + 1]! - breaks[b]!;
      for (let q = 0; q < QUADRATURE_POINTS; q++) {
        volume += areaM2(diameterAtM(shape, breaks[b]! + span * rule.nodes[q]!)) * span * rule.weights[q]!;
      }
    }
    return volume;
  };
}
