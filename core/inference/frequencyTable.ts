import {
  type BeamSystem,
  type BeamValues,
  createModeSolver,
  type FieldEnergies,
  reduceBeam,
  weighEnergies,
} from '../beam/index.ts';
import { FitError } from '../errors.ts';
import { effectsOfWaves, listWaves, PLANE_DEPARTURES, WAVE_NAMES } from './irregularities.ts';
import { beamInput, beamValues, poleBeam } from './poleBeam.ts';
import type { PoleModel } from './poleModel.ts';
import { tabulateRoot } from './tabulateRoot.ts';
import { listUncertainInputs, type UncertainInput } from './uncertainInputs.ts';

/** Modes that a pick can be; higher ones hang on details of the pole that nobody measures. */
export const MODES_KNOWN = 4;

/**
 * Natural frequencies of a pole model over stem modulus and root, for each plane, with their sensitivities.
 * Axes: x = ln(root stiffness / E) and ln E; ln f varies smoothly in both, so a coarse table serves.
 */
export type FrequencyTable = {
  readonly model: PoleModel;
  readonly beams: TabulatedBeams;
  /** Distinct bending planes; sensitivities and frequencies are kept for each. */
  readonly azimuthsDeg: readonly number[];
  readonly x: Float64Array;
  readonly lnModulus: Float64Array;
  /** ln fixity at each x. */
  readonly lnFixity: Float64Array;
  /** logFrequency[plane][mode][i * lnModulus.length + j] at x[i], lnModulus[j]. */
  readonly logFrequency: readonly (readonly Float64Array[])[];
  /** Every so many of `x`: sensitivities vary slowly. */
  readonly sensitivityX: Float64Array;
  /** Uncertain inputs, one standard deviation each; `density` is the first. From `inputCount` on: irregularities of the pole and its planes. */
  readonly nuisances: readonly string[];
  readonly inputCount: number;
  /** rootSensitivity[i * inputCount + k] at sensitivityX[i]: change of ln k_theta at the same x and E for one standard deviation of input k; of ln fixity likewise. */
  readonly rootSensitivity: Float64Array;
  readonly fixitySensitivity: Float64Array;
  /** sensitivity[plane][mode][i * nuisances.length + k]: change of ln f for one standard deviation of nuisance k at sensitivityX[i]. */
  readonly sensitivity: readonly (readonly Float64Array[])[];
};

/** Root axis: this many prior standard deviations of root over stem either way. */
const ROOT_REACH_SD = 4.5;
const ROOT_NODES = 33;
const SENSITIVITY_STRIDE = 4;
/** Stem axis: three nodes, since ln f is 1/2 ln E but for cables and self-weight. */
const MODULUS_REACH_SD = 2.5;

/** Tabulates a pole model's frequencies; some hundred solutions of the beam, reused while picks change. */
export function tabulateFrequencies(model: PoleModel, azimuthsDeg: readonly number[]): FrequencyTable {
  const centreX = Math.log(model.rootStiffness.median / model.modulus.median);
  const highestX = stiffEnd(model).x;
  const lowestX = findLowestStanding(model, 2 * centreX - highestX, centreX);
  const stepX = (highestX - lowestX) / (ROOT_NODES - 1);
  const x = Float64Array.from({ length: ROOT_NODES }, (_, i) => lowestX + stepX * i);
  const reachE = MODULUS_REACH_SD * model.modulus.logSd;
  const lnModulus = Float64Array.from([-1, 0, 1], (t) => Math.log(model.modulus.median) + t * reachE);
  const sensitivityX = x.filter((_, i) => i % SENSITIVITY_STRIDE === 0);

  const inputs = listUncertainInputs(model);
  const root = tabulateRoot(model, x, sensitivityX, inputs);
  const beams = buildBeams(model, azimuthsDeg, x, lnModulus, inputs);
  // planes that cables hold alike have the same frequencies
  const tabulated = new Map<string, TabulatedPlane>();
  const planes = azimuthsDeg.map((azimuthDeg, plane) => {
    const key = beamValues(model, azimuthDeg, 0, 0).springsNPerM.join();
    const shared = tabulated.get(key) ?? tabulatePlane(model, azimuthDeg, x, lnModulus, beams);
    tabulated.set(key, shared);
    return {
      ...shared,
      sensitivity: shared.sensitivity.map((rows) =>
        placeDepartures(rows, inputs.length, plane, azimuthsDeg.length),
      ),
    };
  });
  return {
    model,
    beams,
    azimuthsDeg,
    x,
    lnModulus,
    lnFixity: root.lnFixity,
    sensitivityX,
    nuisances: [
      ...inputs.map(({ name }) => name),
      ...WAVE_NAMES,
      ...azimuthsDeg.flatMap((azimuthDeg) =>
        PLANE_DEPARTURES.map(({ name }) => `${name}, plane at ${azimuthDeg} degrees`),
      ),
    ],
    inputCount: inputs.length,
    rootSensitivity: root.rotational,
    fixitySensitivity: root.fixity,
    logFrequency: planes.map((p) => p.logFrequency),
    sensitivity: planes.map((p) => p.sensitivity),
  };
}

/** Where a table's axes end: the stiffest root over stem, and the stiffest stem, that it holds. */
export function stiffEnd({ rootStiffness, modulus }: PoleModel): { x: number; lnModulus: number } {
  return {
    x:
      Math.log(rootStiffness.median / modulus.median) +
      ROOT_REACH_SD * Math.hypot(rootStiffness.logSd, modulus.logSd),
    lnModulus: Math.log(modulus.median) + MODULUS_REACH_SD * modulus.logSd,
  };
}

const STANDING_SEARCH_STEPS = 12;

/** Lowest x from `low` up at which the pole still carries its own weight, given that it does at `high`. */
function findLowestStanding(model: PoleModel, low: number, high: number): number {
  const solver = createModeSolver(poleBeam(model), 1);
  const modulusPa = model.modulus.median * Math.exp(-MODULUS_REACH_SD * model.modulus.logSd);
  const stands = (x: number): boolean => {
    try {
      solver.solve({
        modulusPa,
        densityKgPerM3: model.density.median,
        rootStiffness: modulusPa * Math.exp(x),
        massesKg: Float64Array.from(model.masses, (m) => m.massKg),
        springsNPerM: new Float64Array(model.cables.length),
      });
      return true;
    } catch (error) {
      if (error instanceof FitError && error.code === 'beam.unstable') return false;
      throw error;
    }
  };
  if (stands(low)) return low;
  let falls = low;
  let holds = high;
  for (let step = 0; step < STANDING_SEARCH_STEPS; step++) {
    const middle = (falls + holds) / 2;
    if (stands(middle)) holds = middle;
    else falls = middle;
  }
  return holds;
}

/** The pole's beam in the few shapes of its modes, and the same for each uncertain input: null where it changes no geometry. */
export type TabulatedBeams = {
  readonly system: BeamSystem;
  readonly inputs: readonly (UncertainInput & { readonly system: BeamSystem | null })[];
  readonly waves: readonly FieldEnergies[];
};

/** The pole's beam, reduced over the axes and over the planes' cables, and one for each input that changes geometry. */
function buildBeams(
  model: PoleModel,
  azimuthsDeg: readonly number[],
  x: Float64Array,
  lnModulus: Float64Array,
  inputs: readonly UncertainInput[],
): TabulatedBeams {
  const bound = (at: 0 | -1, choose: (...values: number[]) => number): BeamValues => {
    const planes = azimuthsDeg.map((azimuthDeg) =>
      beamValues(model, azimuthDeg, x.at(at)!, lnModulus.at(at)!),
    );
    const springsNPerM = planes[0]!.springsNPerM.map((_, i) =>
      choose(...planes.map((p) => p.springsNPerM[i]!)),
    );
    return { ...planes[0]!, springsNPerM };
  };
  // least and greatest values that the table's axes and planes meet
  const reduced = reduceBeam(poleBeam(model), bound(0, Math.min), bound(-1, Math.max), MODES_KNOWN);
  return {
    system: reduced,
    inputs: inputs.map((input) => ({
      ...input,
      system: input.geometry ? reduced.reduceLike(beamInput({ ...model, ...input.geometry })) : null,
    })),
    waves: weighEnergies(reduced, listWaves(model.lengthM, model.settingDepthM)),
  };
}

type TabulatedPlane = {
  readonly logFrequency: readonly Float64Array[];
  /** By mode, a row a coarse node: inputs, waves, then the plane's own departures. */
  readonly sensitivity: readonly Float64Array[];
};

function tabulatePlane(
  model: PoleModel,
  azimuthDeg: number,
  x: Float64Array,
  lnModulus: Float64Array,
  { system, inputs, waves }: TabulatedBeams,
): TabulatedPlane {
  const valuesAt = (xRoot: number, lnE: number) => beamValues(model, azimuthDeg, xRoot, lnE);
  const solver = createModeSolver(system, MODES_KNOWN);
  const changedSolvers = inputs.map((input) =>
    input.system ? createModeSolver(input.system, MODES_KNOWN) : null,
  );
  const ne = lnModulus.length;
  const middle = (ne - 1) / 2;
  const logFrequency = Array.from({ length: MODES_KNOWN }, () => new Float64Array(x.length * ne));
  const firstDeparture = inputs.length + WAVE_NAMES.length;
  const nuisances = firstDeparture + PLANE_DEPARTURES.length;
  const coarseNodes = (x.length - 1) / SENSITIVITY_STRIDE + 1;
  const sensitivity = Array.from({ length: MODES_KNOWN }, () => new Float64Array(coarseNodes * nuisances));
  const change = new Float64Array(MODES_KNOWN);

  for (let i = 0; i < x.length; i++) {
    for (let j = 0; j < ne; j++) {
      const values = valuesAt(x[i]!, lnModulus[j]!);
      solver.solve(values);
      for (let m = 0; m < MODES_KNOWN; m++) logFrequency[m]![i * ne + j] = Math.log(solver.frequenciesHz[m]!);
      if (j !== middle || i % SENSITIVITY_STRIDE !== 0) continue;
      const at = (i / SENSITIVITY_STRIDE) * nuisances;
      for (const [k, input] of inputs.entries()) {
        const changed = changedSolvers[k];
        if (changed) {
          changed.solve(values);
          for (let m = 0; m < MODES_KNOWN; m++) {
            change[m] = Math.log(changed.frequenciesHz[m]! / solver.frequenciesHz[m]!);
          }
        } else {
          solver.logFrequencyChange(input.values!(values), change);
        }
        for (let m = 0; m < MODES_KNOWN; m++) sensitivity[m]![at + k] = change[m]! / input.stepSd;
      }
      for (let m = 0; m < MODES_KNOWN; m++) {
        const effects = effectsOfWaves(waves, solver.shapes[m]!, values, solver.frequenciesHz[m]!);
        sensitivity[m]!.set(effects, at + inputs.length);
      }
      for (const [d, departure] of PLANE_DEPARTURES.entries()) {
        solver.logFrequencyChange(departure.values(values), change);
        for (let m = 0; m < MODES_KNOWN; m++) {
          sensitivity[m]![at + firstDeparture + d] = change[m]! / departure.stepSd;
        }
      }
    }
  }
  return { logFrequency, sensitivity };
}

/** Spreads a plane's rows over the departures of all planes: those of the others do nothing to it. */
function placeDepartures(rows: Float64Array, inputs: number, plane: number, planes: number): Float64Array {
  const common = inputs + WAVE_NAMES.length;
  const own = common + PLANE_DEPARTURES.length;
  const all = common + planes * PLANE_DEPARTURES.length;
  const nodes = rows.length / own;
  const out = new Float64Array(nodes * all);
  for (let i = 0; i < nodes; i++) {
    out.set(rows.subarray(i * own, i * own + common), i * all);
    out.set(
      rows.subarray(i * own + common, (i + 1) * own),
      i * all + common + plane * PLANE_DEPARTURES.length,
    );
  }
  return out;
}
