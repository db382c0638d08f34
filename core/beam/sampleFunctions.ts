import type { BeamInput } from './beamInput.ts';
import { gaussLegendre } from './quadrature.ts';
import { createRitzFunctions } from './ritzFunctions.ts';

/** Exact for products of two basis integrals with the quartic of a tapered second moment. */
const QUADRATURE_POINTS = 18;

/** Functions that a beam's deflection is composed of, at all points of quadrature; function i from i * heightsM.length on. */
export type SampledFunctions = {
  readonly size: number;
  /** Points from the lowest up, and the lengths that they stand for. */
  readonly heightsM: Float64Array;
  readonly stepsM: Float64Array;
  readonly curvatures: Float64Array;
  readonly rotations: Float64Array;
  readonly shears: Float64Array;
  readonly deflections: Float64Array;
  readonly slopes: Float64Array;
  /** Of the lowest point, one a function. */
  readonly lowestDeflections: Float64Array;
  readonly lowestRotations: Float64Array;
  /** Deflection at a height (m) as a linear form of the coefficients. */
  readonly deflectionShape: (heightM: number) => Float64Array;
  /** Section rotation at a height (m), likewise. */
  readonly rotationShape: (heightM: number) => Float64Array;
  /** Curvature at a height (m), in 1/m, likewise. */
  readonly curvatureShape: (heightM: number) => Float64Array;
};

/** The functions of createRitzFunctions at the points that integrate a beam. */
export function sampleFunctions(input: BeamInput): SampledFunctions {
  const depthM = input.root.model === 'bedded' ? input.root.settingDepthM : 0;
  const lengthM = input.lengthAboveM + depthM;
  const { size, curvature, rotation, shear, deflection, slope, evaluateAt } = createRitzFunctions(input);
  const shapeOf = (field: Float64Array) => (heightM: number) => {
    evaluateAt((heightM + depthM) / lengthM);
    return field.slice();
  };
  const { heightsM, stepsM } = quadraturePoints(input);
  const count = heightsM.length;
  const sampled = () => new Float64Array(size * count);
  const [curvatures, rotations, shears] = [sampled(), sampled(), sampled()];
  const [deflections, slopes] = [sampled(), sampled()];
  for (let q = 0; q < count; q++) {
    evaluateAt((heightsM[q]! + depthM) / lengthM);
    for (let i = 0, at = q; i < size; i++, at += count) {
      curvatures[at] = curvature[i]!;
      rotations[at] = rotation[i]!;
      shears[at] = shear[i]!;
      deflections[at] = deflection[i]!;
      slopes[at] = slope[i]!;
    }
  }
  return {
    ...{ size, heightsM, stepsM, curvatures, rotations, shears, deflections, slopes },
    lowestDeflections: shapeOf(deflection)(-depthM),
    lowestRotations: shapeOf(rotation)(-depthM),
    deflectionShape: shapeOf(deflection),
    rotationShape: shapeOf(rotation),
    curvatureShape: shapeOf(curvature),
  };
}

/** Sums of functions: as many as there are rows of weights, one weight for each function. */
export function combineFunctions(
  functions: SampledFunctions,
  rows: readonly Float64Array[],
): SampledFunctions {
  const { heightsM, stepsM } = functions;
  const sum = (values: Float64Array) => combine(values, rows, heightsM.length);
  const form = (values: Float64Array) => combine(values, rows, 1);
  return {
    ...{ size: rows.length, heightsM, stepsM },
    curvatures: sum(functions.curvatures),
    rotations: sum(functions.rotations),
    shears: sum(functions.shears),
    deflections: sum(functions.deflections),
    slopes: sum(functions.slopes),
    lowestDeflections: form(functions.lowestDeflections),
    lowestRotations: form(functions.lowestRotations),
    deflectionShape: (heightM) => form(functions.deflectionShape(heightM)),
    rotationShape: (heightM) => form(functions.rotationShape(heightM)),
    curvatureShape: (heightM) => form(functions.curvatureShape(heightM)),
  };
}

/** @param count - points of each function */
function combine(values: Float64Array, rows: readonly Float64Array[], count: number): Float64Array {
  const out = new Float64Array(rows.length * count);
  for (let r = 0; r < rows.length; r++) {
    const weights = rows[r]!;
    for (let i = 0; i < weights.length; i++) addScaled(out, r * count, values, i * count, weights[i]!, count);
  }
  return out;
}

function addScaled(
  out: Float64Array,
  to: number,
  values: Float64Array,
  from: number,
  weight: number,
  count: number,
): void {
  for (let q = 0; q < count; q++) out[to + q]! += weight * values[from + q]!;
}

function quadraturePoints(input: BeamInput): { heightsM: Float64Array; stepsM: Float64Array } {
  const rule = gaussLegendre(QUADRATURE_POINTS);
  const breaks = breakHeights(input);
  const count = QUADRATURE_POINTS * (breaks.length - 1);
  const heightsM = new Float64Array(count);
  const stepsM = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const at = Math.floor(i / QUADRATURE_POINTS);
    const q = i % QUADRATURE_POINTS;
    const span = breaks[at + 1]! - breaks[at]!;
    heightsM[i] = breaks[at]! + span * rule.nodes[q]!;
    stepsM[i] = span * rule.weights[q]!;
  }
  return { heightsM, stepsM };
}

/** Heights in m, from the lowest point to the tip, between which all that is integrated along a beam is smooth. */
export function breakHeights(input: BeamInput): number[] {
  const depthM = input.root.model === 'bedded' ? input.root.settingDepthM : 0;
  const inside = [0, ...input.massHeightsM, ...input.springHeightsM, ...input.shape.heightsM];
  const kept = inside.filter((h) => h > -depthM && h < input.lengthAboveM);
  return [...new Set([-depthM, ...kept, input.lengthAboveM])].sort((a, b) => a - b);
}
