import { gaussLegendre } from './quadrature.ts';
import { type GivenRoot, type RootForm, rootMatrix } from './rootMatrix.ts';
import { areaM2, diameterAtM, type StemShape, secondMomentM4 } from './stemShape.ts';

export type BeamInput = {
  readonly lengthAboveM: number;
  readonly shape: StemShape;
  readonly root: RootForm | GivenRoot;
  /** E / (kappa G), dimensionless; null: Euler-Bernoulli, no shear and no rotary inertia. */
  readonly shearFlexibility: number | null;
  /** Heights in m of lumped masses and of lateral springs, above ground line. */
  readonly massHeightsM: readonly number[];
  readonly springHeightsM: readonly number[];
  readonly selfWeight: boolean;
};

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
  readonly input: BeamInput;
};

/** In m/s2 (ISO 80000-3). */
export const STANDARD_GRAVITY = 9.80665;
/** Polynomial terms of section rotation and of shear strain; 1e-6 in modes 1 to 3, see tests/reference/cantilevers. */
const ROTATION_TERMS = 15;
const SHEAR_TERMS = 9;
/** Point loads and kinks of the outside nearer than this share of the length to each other or to an end share one kink: beyond it the terms would be dependent. */
const LEAST_KINK_DISTANCE = 0.04;
/** Powers of depth in the curvature of a butt below ground line. */
const GROUND_POWERS = [2, 3];
/** Exact for products of two basis integrals with the quartic of a tapered second moment. */
const QUADRATURE_POINTS = 18;

/**
 * Ritz system of a tapered stem on a root. Unknowns: deflection of the lowest point w0 (coupled and bedded
 * roots), section rotation theta = a0 + sum a_j Q_j(s) with Q_j the integral of the orthonormal Legendre
 * polynomial P_(j-1), and shear strain gamma = sum c_j P_j(s); deflection w = w0 + T int (theta + gamma) ds
 * on s in [0, 1] over the length T. A mass or spring between the ends puts a kink into the moment and a step
 * into the shear force, which polynomials follow slowly; each gets a ramp of curvature and a step of shear
 * strain of its own; where the outside has a kink, ramps of both. Soil that begins at ground line breaks the second or third derivative of the moment there, so
 * a bedded root gets truncated powers below ground in the same way. Energies: 1/2 int E I theta'^2, 1/2 int kappa G A gamma^2, 1/2 int k w^2
 * in the soil, -1/2 int P w'^2 of the weight above; rho A w^2 and rho I theta^2 in inertia (Timoshenko 1921).
 * Soil carries the weight of the buried part, which therefore has no term.
 */
export function buildBeam(input: BeamInput): BeamSystem {
  const { root, lengthAboveM } = input;
  const depthM = root.model === 'bedded' ? root.settingDepthM : 0;
  const lengthM = lengthAboveM + depthM;
  const hasBottomDeflection = root.model !== 'spring';
  const firstRotation = hasBottomDeflection ? 1 : 0;
  const shearTerms = input.shearFlexibility === null ? 0 : SHEAR_TERMS;
  const firstShear = firstRotation + ROTATION_TERMS;
  const breaks = listBreaks(input, depthM);
  const firstBreak = firstShear + shearTerms;
  const size = firstBreak + breaks.length * (input.shearFlexibility === null ? 1 : 2);

  const rotation = new Float64Array(size);
  const curvature = new Float64Array(size);
  const shear = new Float64Array(size);
  const deflection = new Float64Array(size);
  const slope = new Float64Array(size);
  const legendre = new Float64Array(ROTATION_TERMS + 3);

  const evaluateAt = (s: number): void => {
    shiftedLegendre(s, legendre);
    if (hasBottomDeflection) deflection[0] = 1;
    rotation[firstRotation] = 1;
    deflection[firstRotation] = lengthM * s;
    for (let j = 1; j < ROTATION_TERMS; j++) {
      const i = firstRotation + j;
      const scale = Math.sqrt(2 * j - 1);
      curvature[i] = (scale * legendre[j - 1]!) / lengthM;
      rotation[i] = scale * integral(legendre, j - 1);
      deflection[i] = scale * lengthM * secondIntegral(legendre, j - 1, s);
    }
    for (let j = 0; j < shearTerms; j++) {
      const i = firstShear + j;
      const scale = Math.sqrt(2 * j + 1);
      shear[i] = scale * legendre[j]!;
      deflection[i] = scale * lengthM * integral(legendre, j);
    }
    for (const [k, { at, power, shearPower }] of breaks.entries()) {
      const i = firstBreak + k;
      const above = Math.max(s - at, 0);
      const left = Math.max(at - s, 0);
      // integrals from 0 of (at - s)^power, straight above the break
      const slopeAbove = at ** (power + 1) / (power + 1);
      const rise = (at ** (power + 2) - left ** (power + 2)) / ((power + 1) * (power + 2));
      curvature[i] = left ** power / lengthM;
      rotation[i] = slopeAbove - left ** (power + 1) / (power + 1);
      deflection[i] = lengthM * (slopeAbove * (Math.min(s, at) + above) - rise);
      if (input.shearFlexibility !== null) {
        const j = i + breaks.length;
        shear[j] = s < at ? left ** shearPower : 0;
        deflection[j] = (lengthM * (at ** (shearPower + 1) - left ** (shearPower + 1))) / (shearPower + 1);
      }
    }
    for (let i = 0; i < size; i++) slope[i] = rotation[i]! + shear[i]!;
  };
  const deflectionShape = (heightM: number): Float64Array => {
    evaluateAt((heightM + depthM) / lengthM);
    return deflection.slice();
  };
  const rotationShape = (heightM: number): Float64Array => {
    evaluateAt((heightM + depthM) / lengthM);
    return rotation.slice();
  };

  const elastic = new Float64Array(size * size);
  const rootSpring = new Float64Array(size * size);
  const weight = new Float64Array(size * size);
  const inertia = new Float64Array(size * size);
  const massWeights = input.massHeightsM.map(() => new Float64Array(size * size));

  const rule = gaussLegendre(QUADRATURE_POINTS);
  const heights = breakHeights(input, depthM);
  const areaAbove = areaIntegral(input.shape, lengthAboveM);
  for (let b = 0; b + 1 < heights.length; b++) {
    const from = heights[b]!;
    const span = heights[b + 1]! - from;
    for (let q = 0; q < QUADRATURE_POINTS; q++) {
      const heightM = from + span * rule.nodes[q]!;
      const dx = span * rule.weights[q]!;
      evaluateAt((heightM + depthM) / lengthM);
      const diameterM = diameterAtM(input.shape, heightM);
      const area = areaM2(diameterM);
      const secondMoment = secondMomentM4(diameterM);
      addProduct(elastic, curvature, secondMoment * dx);
      addProduct(inertia, deflection, area * dx);
      if (input.shearFlexibility !== null) {
        addProduct(elastic, shear, (area / input.shearFlexibility) * dx);
        addProduct(inertia, rotation, secondMoment * dx);
      }
      if (heightM < 0) {
        const modulusShare = root.model === 'bedded' && root.subgrade === 'linear' ? -heightM : 1;
        addProduct(rootSpring, deflection, modulusShare * dx);
      } else if (input.selfWeight) {
        addProduct(weight, slope, STANDARD_GRAVITY * areaAbove(heightM) * dx);
        for (const [i, massHeightM] of input.massHeightsM.entries()) {
          if (heightM < massHeightM) addProduct(massWeights[i]!, slope, STANDARD_GRAVITY * dx);
        }
      }
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
    input,
  };
}

function breakHeights(input: BeamInput, depthM: number): number[] {
  const inside = [0, ...input.massHeightsM, ...input.springHeightsM, ...input.shape.heightsM];
  const kept = inside.filter((h) => h > -depthM && h < input.lengthAboveM);
  return [...new Set([-depthM, ...kept, input.lengthAboveM])].sort((a, b) => a - b);
}

/**
 * Powers of (at - s) below a place s = at on [0, 1] by which a curvature or a shear strain breaks there: a load
 * kinks the moment and steps the shear force, a kink of the outside kinks both strains, soil breaks them more gently.
 */
type Break = { readonly at: number; readonly power: number; readonly shearPower: number };

function listBreaks(input: BeamInput, depthM: number): Break[] {
  const lengthM = input.lengthAboveM + depthM;
  const breaks: Break[] = [];
  const addAt = (heightsM: readonly number[], shearPower: number): void => {
    const places = heightsM.map((h) => (h + depthM) / lengthM).sort((a, b) => a - b);
    for (const at of places) {
      const isApart = [0, 1, ...breaks.map((b) => b.at)].every(
        (b) => Math.abs(b - at) >= LEAST_KINK_DISTANCE,
      );
      if (isApart) breaks.push({ at, power: 1, shearPower });
    }
  };
  addAt([...input.massHeightsM, ...input.springHeightsM], 0);
  addAt(input.shape.heightsM.slice(1, -1), 1);
  if (depthM === 0 || input.lengthAboveM === 0) return breaks;
  return [
    ...breaks,
    ...GROUND_POWERS.map((power) => ({ at: depthM / lengthM, power, shearPower: power - 1 })),
  ];
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

function addProduct(matrix: Float64Array, vector: Float64Array, factor: number): void {
  const n = vector.length;
  for (let i = 0; i < n; i++) {
    const row = vector[i]! * factor;
    if (row === 0) continue;
    for (let j = 0; j < n; j++) matrix[i * n + j]! += row * vector[j]!;
  }
}

/** Legendre polynomials of 2s - 1 on [0, 1] into `out`, degrees 0 to out.length - 1. */
function shiftedLegendre(s: number, out: Float64Array): void {
  const x = 2 * s - 1;
  out[0] = 1;
  out[1] = x;
  for (let k = 2; k < out.length; k++) out[k] = ((2 * k - 1) * x * out[k - 1]! - (k - 1) * out[k - 2]!) / k;
}

/** Integral from 0 to s of the shifted Legendre polynomial of degree j: (P_(j+1) - P_(j-1)) / (2 (2j+1)). */
function integral(legendre: Float64Array, j: number): number {
  if (j === 0) return (legendre[1]! + 1) / 2;
  return (legendre[j + 1]! - legendre[j - 1]!) / (2 * (2 * j + 1));
}

/** Integral of {@link integral} from 0 to s. */
function secondIntegral(legendre: Float64Array, j: number, s: number): number {
  if (j === 0) return (s * s) / 2;
  return (integral(legendre, j + 1) - integral(legendre, j - 1)) / (2 * (2 * j + 1));
}
