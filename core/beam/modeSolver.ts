import { factorCholesky, solveUpper } from '../cholesky.ts';
import { FitError } from '../errors.ts';
import type { BeamSystem } from './buildBeam.ts';
import { createLargestEigenpairs } from './largestEigenpairs.ts';

/** Values of a beam's free parameters, SI. */
export type BeamValues = {
  modulusPa: number;
  densityKgPerM3: number;
  /** N m/rad for a `spring` root, soil modulus (N/m2 or N/m3) for `coupled` and `bedded`. */
  rootStiffness: number;
  /** One value for each of the system's `massHeightsM`, in kg. */
  massesKg: Float64Array;
  /** One value for each of the system's `springHeightsM`, in N/m. */
  springsNPerM: Float64Array;
};

/** Solves one beam again and again without allocating. Its arrays are overwritten by the next solve. */
export type ModeSolver = {
  readonly count: number;
  readonly frequenciesHz: Float64Array;
  /** Row n: coefficients of mode n (from 0), normalised to a' K a = 1. */
  readonly shapes: readonly Float64Array[];
  solve(values: BeamValues): void;
  /**
   * Change of ln f_n, to first order, from the values last solved to `values`:
   * 1/2 (a' dK a - omega^2 a' dM a) / (a' K a) (Rayleigh).
   */
  logFrequencyChange(values: BeamValues, out: Float64Array): void;
};

/**
 * Natural frequencies and shapes of a beam's lowest modes. K = L L'; the largest eigenvalues of
 * L^-1 M L^-T are 1/omega^2, so the lowest modes keep full relative accuracy on stiff and on loose roots.
 * @param count - modes wanted, at most `system.size`
 */
export function createModeSolver(system: BeamSystem, count: number): ModeSolver {
  const n = system.size;
  const stiffness = new Float64Array(n * n);
  const mass = new Float64Array(n * n);
  const reduced = new Float64Array(n * n);
  const eigenpairs = createLargestEigenpairs(n, count);
  const changedStiffness = new Float64Array(n * n);
  const changedMass = new Float64Array(n * n);
  const frequenciesHz = new Float64Array(count);
  const shapes = Array.from({ length: count }, () => new Float64Array(n));

  const solve = (values: BeamValues): void => {
    factorStiffness(system, values, stiffness);
    assembleMass(system, values, mass);
    reduceByFactor(n, stiffness, mass, reduced);
    if (!eigenpairs.find(reduced)) {
      throw new FitError('beam.eigen', 'The modes of the beam could not be computed.', 'Check the inputs.');
    }
    for (let mode = 0; mode < count; mode++) {
      frequenciesHz[mode] = 1 / (2 * Math.PI * Math.sqrt(eigenpairs.values[mode]!));
      const shape = shapes[mode]!;
      shape.set(eigenpairs.vectors[mode]!);
      solveUpper(stiffness, shape);
    }
  };

  const logFrequencyChange = (values: BeamValues, out: Float64Array): void => {
    assembleStiffness(system, values, changedStiffness);
    assembleMass(system, values, changedMass);
    for (let mode = 0; mode < count; mode++) {
      const shape = shapes[mode]!;
      const lambda = (2 * Math.PI * frequenciesHz[mode]!) ** 2;
      // a' K a = 1 and lambda a' M a = 1 at the solved state
      out[mode] =
        (quadraticForm(n, changedStiffness, shape) - lambda * quadraticForm(n, changedMass, shape)) / 2;
    }
  };

  return { count, frequenciesHz, shapes, solve, logFrequencyChange };
}

/** Lower Cholesky factor of a beam's stiffness at its values, row-major, into `factor`. @throws FitError `beam.unstable` */
export function factorStiffness(system: BeamSystem, values: BeamValues, factor: Float64Array): void {
  assembleStiffness(system, values, factor);
  if (factorCholesky(system.size, factor)) return;
  throw new FitError(
    'beam.unstable',
    'The pole as it is described would not stand by itself: it is too slender to carry its own weight and what hangs on it.',
    'Check circumferences (in m, around the pole and not across it), length, masses on the pole and the root.',
  );
}

/** Stiffness matrix of a beam at its values, row-major, into `stiffness`. */
export function assembleStiffness(system: BeamSystem, values: BeamValues, stiffness: Float64Array): void {
  const n = system.size;
  const { modulusPa, densityKgPerM3, rootStiffness, massesKg, springsNPerM } = values;
  const { elastic, rootSpring, weight } = system;
  for (let i = 0; i < n * n; i++) {
    stiffness[i] = modulusPa * elastic[i]! + rootStiffness * rootSpring[i]! - densityKgPerM3 * weight[i]!;
  }
  if (system.input.selfWeight) {
    for (let k = 0; k < massesKg.length; k++) {
      const load = system.massWeights[k]!;
      const massKg = massesKg[k]!;
      for (let i = 0; i < n * n; i++) stiffness[i]! -= massKg * load[i]!;
    }
  }
  for (let k = 0; k < springsNPerM.length; k++)
    addSquare(stiffness, system.springShapes[k]!, springsNPerM[k]!);
}

function assembleMass(system: BeamSystem, values: BeamValues, mass: Float64Array): void {
  const { densityKgPerM3, massesKg } = values;
  const { inertia } = system;
  for (let i = 0; i < inertia.length; i++) mass[i] = densityKgPerM3 * inertia[i]!;
  for (let k = 0; k < massesKg.length; k++) addSquare(mass, system.massShapes[k]!, massesKg[k]!);
}

/** matrix += factor shape shape' */
export function addSquare(matrix: Float64Array, shape: Float64Array, factor: number): void {
  const n = shape.length;
  for (let i = 0; i < n; i++) {
    const row = factor * shape[i]!;
    for (let j = 0; j < n; j++) matrix[i * n + j]! += row * shape[j]!;
  }
}

/** out = L^-1 M L^-T, symmetric, with L the lower factor in `factor`. */
function reduceByFactor(n: number, factor: Float64Array, mass: Float64Array, out: Float64Array): void {
  for (let i = 0; i < n; i++) {
    const row = i * n;
    for (let c = 0; c < n; c++) out[row + c] = mass[row + c]!;
    for (let k = 0; k < i; k++) {
      const share = factor[row + k]!;
      const above = k * n;
      for (let c = 0; c < n; c++) out[row + c]! -= share * out[above + c]!;
    }
    const scale = 1 / factor[row + i]!;
    for (let c = 0; c < n; c++) out[row + c]! *= scale;
  }
  for (let row = 0; row < n; row++) {
    for (let j = 0; j <= row; j++) {
      let sum = out[row * n + j]!;
      for (let k = 0; k < j; k++) sum -= factor[j * n + k]! * out[row * n + k]!;
      out[row * n + j] = sum / factor[j * n + j]!;
    }
  }
  for (let row = 0; row < n; row++) for (let j = row + 1; j < n; j++) out[row * n + j] = out[j * n + row]!;
}

/** vector' matrix vector */
export function quadraticForm(n: number, matrix: Float64Array, vector: Float64Array): number {
  let total = 0;
  for (let i = 0; i < n; i++) {
    let row = 0;
    for (let j = 0; j < n; j++) row += matrix[i * n + j]! * vector[j]!;
    total += row * vector[i]!;
  }
  return total;
}
