import type { BeamValues } from '../beam/index.ts';
import type { PoleModel } from './poleModel.ts';

/** Step of a geometric input, in standard deviations, small enough for a first-order change. */
const GEOMETRY_STEP_SD = 0.1;
const RATIO_STEP = 0.01;

/** A way in which the inputs may be wrong: changed geometry (solved anew) or changed values, by so many standard deviations. */
export type UncertainInput = { name: string; stepSd: number } & (
  | { geometry: Partial<PoleModel>; values?: never }
  | { geometry?: never; values: (values: BeamValues) => BeamValues }
);

/** Inputs of a model that the data do not determine, `density` first. */
export function listUncertainInputs(model: PoleModel): UncertainInput[] {
  const scaled = (factor: number): PoleModel['shape'] => ({
    heightsM: model.shape.heightsM,
    diametersM: model.shape.diametersM.map((d) => d * factor),
  });
  const changeOne = (array: Float64Array, index: number) =>
    array.map((value, i) => (i === index ? value * (1 + RATIO_STEP) : value));
  const list: UncertainInput[] = [
    {
      name: 'density',
      stepSd: RATIO_STEP / model.density.logSd,
      values: (v) => ({ ...v, densityKgPerM3: v.densityKgPerM3 * (1 + RATIO_STEP) }),
    },
    {
      name: 'girth',
      stepSd: GEOMETRY_STEP_SD,
      geometry: { shape: scaled(1 + GEOMETRY_STEP_SD * model.girthLogSd) },
    },
    {
      name: 'taper',
      stepSd: GEOMETRY_STEP_SD,
      geometry: { shape: model.shapeForTip(GEOMETRY_STEP_SD * model.tipDiameterSdM) },
    },
    {
      name: 'setting depth',
      stepSd: GEOMETRY_STEP_SD,
      geometry: deepen(model, GEOMETRY_STEP_SD * model.settingDepthSdM),
    },
  ];
  if (model.shear) {
    const flexibility = model.shear.flexibility * Math.exp(GEOMETRY_STEP_SD * model.shear.logSd);
    list.push({
      name: 'shear',
      stepSd: GEOMETRY_STEP_SD,
      geometry: { shear: { flexibility, logSd: model.shear.logSd } },
    });
  }
  model.masses.forEach((mass, i) => {
    list.push({
      name: `mass at ${mass.heightM} m`,
      stepSd: RATIO_STEP / mass.logSd,
      values: (v) => ({ ...v, massesKg: changeOne(v.massesKg, i) }),
    });
  });
  model.cables.forEach((cable, i) => {
    list.push({
      name: `cable at ${cable.heightM} m`,
      stepSd: RATIO_STEP / cable.logSd,
      values: (v) => ({ ...v, springsNPerM: changeOne(v.springsNPerM, i) }),
    });
  });
  return list;
}

function deepen(model: PoleModel, byM: number): Partial<PoleModel> {
  const settingDepthM = model.settingDepthM + byM;
  const root = model.root.model === 'spring' ? model.root : { ...model.root, settingDepthM };
  return { settingDepthM, root };
}
