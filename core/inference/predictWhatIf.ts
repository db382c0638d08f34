import { createModeSolver, rootRotationalStiffness } from '../beam/index.ts';
import { groundlineSecondMomentM4 } from './describePole.ts';
import { type FrequencyTable, MODES_KNOWN } from './frequencyTable.ts';
import { beamValues, poleBeam } from './poleBeam.ts';
import type { PoleModel } from './poleModel.ts';

/** A pole changed in thought; what is left out stays as fitted. */
export type PoleChange = {
  readonly modulusPa?: number | undefined;
  readonly fixity?: number | undefined;
  /** Factor on the stiffness of all cables. */
  readonly cableFactor?: number | undefined;
  readonly addedMass?: { readonly heightM: number; readonly massKg: number } | undefined;
  readonly settingDepthM?: number | undefined;
};

/** Modes of a plane: frequencies, and the product of the mass-normalised shape at two heights, in 1/kg. */
export type PredictedModes = {
  readonly frequenciesHz: readonly number[];
  readonly participation: readonly number[];
};

/**
 * Modes of a pole at a stem and root of choice, changed in thought, inputs at their medians.
 * @param at - x = ln(root stiffness / E) and ln E, from a posterior's peak
 * @param heights - where it is struck and where it is sensed, in m; decides how strongly each mode shows
 */
export function predictWhatIf(
  table: FrequencyTable,
  plane: number,
  at: { readonly x: number; readonly lnModulus: number },
  change: PoleChange,
  heights: { readonly strikeM: number; readonly sensorM: number },
): PredictedModes {
  const model = changeModel(table.model, change);
  const lnModulus = change.modulusPa === undefined ? at.lnModulus : Math.log(change.modulusPa);
  // a changed stem keeps its root: the ratio of both moves the other way
  const x =
    change.fixity === undefined ? at.x + at.lnModulus - lnModulus : findX(model, table, change.fixity);
  const system = poleBeam(model);
  const solver = createModeSolver(system, MODES_KNOWN);
  solver.solve(beamValues(model, table.azimuthsDeg[plane]!, x, lnModulus));
  const strike = system.deflectionShape(heights.strikeM);
  const sensor = system.deflectionShape(heights.sensorM);
  const along = (form: Float64Array, shape: Float64Array) =>
    form.reduce((sum, v, i) => sum + v * shape[i]!, 0);
  const frequenciesHz = [...solver.frequenciesHz];
  return {
    frequenciesHz,
    // shapes have a' K a = 1, so mass-normalised ones are omega times as large
    participation: frequenciesHz.map(
      (f, mode) =>
        (2 * Math.PI * f) ** 2 * along(strike, solver.shapes[mode]!) * along(sensor, solver.shapes[mode]!),
    ),
  };
}

function changeModel(model: PoleModel, { cableFactor = 1, addedMass, settingDepthM }: PoleChange): PoleModel {
  const depthM = settingDepthM ?? model.settingDepthM;
  return {
    ...model,
    settingDepthM: depthM,
    root: model.root.model === 'spring' ? model.root : { ...model.root, settingDepthM: depthM },
    cables: model.cables.map((cable) => ({ ...cable, stiffnessNPerM: cableFactor * cable.stiffnessNPerM })),
    masses: addedMass
      ? [...model.masses, { ...addedMass, logSd: 0, origin: { setBy: 'in thought', isGiven: true } }]
      : model.masses,
  };
}

const HALVINGS = 50;
/** Room beyond the table's root axis, in ln, in which a fixity of choice is looked for. */
const ROOM = 4;

/** x at which a pole's root has a fixity; the nearest end where it lies outside. */
function findX(model: PoleModel, table: FrequencyTable, fixity: number): number {
  const stiffnessOf = rootRotationalStiffness(model.root, model.shape, model.shear?.flexibility ?? null);
  const wanted = (fixity * groundlineSecondMomentM4(model)) / (model.lengthM - model.settingDepthM);
  let low = table.x[0]! - ROOM;
  let high = table.x.at(-1)! + ROOM;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (stiffnessOf(1, Math.exp(middle)) < wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
