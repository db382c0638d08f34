import type { BeamInput } from './beamInput.ts';

/** Polynomial terms of section rotation and of shear strain; 1e-6 in modes 1 to 3, see tests/reference/cantilevers and tests/beam/beamAgainstShooting. */
const ROTATION_TERMS = 15;
const SHEAR_TERMS = 9;
/** Point loads and kinks of the outside nearer than this share of the length to each other, to an end or to ground line share one kink: below it the terms would be dependent. */
const LEAST_KINK_DISTANCE = 0.02;
/** Polynomial terms of curvature and of shear strain that a bedded butt has of its own, on top of those of the whole. */
const BUTT_CURVATURE_TERMS = 7;
const BUTT_SHEAR_TERMS = 7;

/** Values of all Ritz functions at the place last evaluated, each array of length `size`. */
type RitzFunctions = {
  readonly size: number;
  /** d theta / dx in 1/m. */
  readonly curvature: Float64Array;
  readonly rotation: Float64Array;
  readonly shear: Float64Array;
  /** In m. */
  readonly deflection: Float64Array;
  /** dw/dx: rotation and shear strain. */
  readonly slope: Float64Array;
  /** @param s - place from the lowest point, 0, to the tip, 1 */
  readonly evaluateAt: (s: number) => void;
};

/**
 * Ritz functions of a beam. Unknowns: deflection of the lowest point w0 (all roots but `spring`), section rotation
 * theta = a0 + sum a_j Q_j(s) with Q_j the integral of the orthonormal Legendre polynomial P_(j-1), and shear strain gamma =
 * sum c_j P_j(s); deflection w = w0 + T int (theta + gamma) ds on s in [0, 1] over the length T. A mass or spring between the
 * ends puts a kink into the moment and a step into the shear force, which polynomials follow slowly; each gets strains of its
 * own below it, a ramp and a parabola of curvature, a step and a ramp of shear. Where the outside has a kink it is one power more
 * of shear. Soil begins at ground line, and firm soil bends a butt on a length much shorter than the stem's: a bedded butt
 * gets polynomials of its own.
 */
export function createRitzFunctions(input: BeamInput): RitzFunctions {
  const { root } = input;
  const depthM = root.model === 'bedded' ? root.settingDepthM : 0;
  const lengthM = input.lengthAboveM + depthM;
  const hasBottomDeflection = root.model !== 'spring';
  const firstRotation = hasBottomDeflection ? 1 : 0;
  const shearTerms = input.shearFlexibility === null ? 0 : SHEAR_TERMS;
  const firstShear = firstRotation + ROTATION_TERMS;
  const breaks = listBreaks(input, depthM);
  const firstBreak = firstShear + shearTerms;
  const firstButt = firstBreak + breaks.length * (input.shearFlexibility === null ? 1 : 2);
  const groundAt = depthM / lengthM;
  const hasOwnButt = groundAt > 0 && groundAt < 1;
  const buttCurvatureTerms = hasOwnButt ? BUTT_CURVATURE_TERMS : 0;
  const buttShearTerms = hasOwnButt && input.shearFlexibility !== null ? BUTT_SHEAR_TERMS : 0;
  const firstButtShear = firstButt + buttCurvatureTerms;
  const size = firstButtShear + buttShearTerms;

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
    if (hasOwnButt) {
      const u = Math.min(s / groundAt, 1);
      const above = Math.max(s - groundAt, 0);
      const isBuried = s < groundAt;
      shiftedLegendre(u, legendre);
      for (let j = 0; j < buttCurvatureTerms; j++) {
        const i = firstButt + j;
        const scale = Math.sqrt(2 * j + 1);
        curvature[i] = isBuried ? (scale * legendre[j]!) / lengthM : 0;
        rotation[i] = scale * groundAt * integral(legendre, j);
        deflection[i] =
          lengthM * (scale * groundAt ** 2 * secondIntegral(legendre, j, u) + rotation[i]! * above);
      }
      for (let j = 0; j < buttShearTerms; j++) {
        const i = firstButtShear + j;
        const scale = Math.sqrt(2 * j + 1);
        shear[i] = isBuried ? scale * legendre[j]! : 0;
        deflection[i] = scale * lengthM * groundAt * integral(legendre, j);
      }
    }
    for (let i = 0; i < size; i++) slope[i] = rotation[i]! + shear[i]!;
  };
  return { size, curvature, rotation, shear, deflection, slope, evaluateAt };
}

/**
 * Powers of (at - s) below a place s = at on [0, 1] by which curvature and shear strain break there: a load kinks the moment
 * and steps the shear force, a kink of the outside kinks both strains. On a taper the next power breaks as well.
 */
type Break = { readonly at: number; readonly power: number; readonly shearPower: number };

function listBreaks(input: BeamInput, depthM: number): Break[] {
  const lengthM = input.lengthAboveM + depthM;
  const breaks: Break[] = [];
  const addAt = (heightsM: readonly number[], shearPower: number): void => {
    const places = heightsM.map((h) => (h + depthM) / lengthM).sort((a, b) => a - b);
    for (const at of places.filter((place) => place > 0 && place < 1)) {
      const isApart = [0, depthM / lengthM, 1, ...breaks.map((b) => b.at)].every(
        (b) => Math.abs(b - at) >= LEAST_KINK_DISTANCE,
      );
      if (isApart) breaks.push({ at, power: 1, shearPower }, { at, power: 2, shearPower: shearPower + 1 });
    }
  };
  addAt([...input.massHeightsM, ...input.springHeightsM], 0);
  addAt(input.shape.heightsM.slice(1, -1), 1);
  return breaks;
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
