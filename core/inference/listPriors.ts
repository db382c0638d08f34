import type { Assessment } from '../assessment.ts';
import type { LognormalPrior, PoleModel } from './poleModel.ts';

type Prior = Assessment['priors'][number];

const Z_OF_90_PERCENT = 1.6449;

/** What a pole model takes as known before any recording, as a reader wants it: median, 90 % range, source. */
export function listPriors(model: PoleModel): Prior[] {
  const lognormal = (name: string, unit: string, { median, logSd, source }: LognormalPrior): Prior => ({
    name,
    median,
    low: median * Math.exp(-Z_OF_90_PERCENT * logSd),
    high: median * Math.exp(Z_OF_90_PERCENT * logSd),
    unit,
    source,
  });
  const normal = (name: string, unit: string, median: number, sd: number, source: string): Prior => ({
    name,
    median,
    low: median - Z_OF_90_PERCENT * sd,
    high: median + Z_OF_90_PERCENT * sd,
    unit,
    source,
  });
  const { root, shape } = model;
  const tipM = shape.diametersM.at(-1)!;
  return [
    lognormal('stem modulus', 'Pa', model.modulus),
    lognormal('density', 'kg/m3', model.density),
    root.model === 'spring'
      ? lognormal('stiffness of a spring root', 'N m/rad', model.rootStiffness)
      : lognormal('soil modulus', root.subgrade === 'linear' ? 'N/m3' : 'N/m2', model.rootStiffness),
    normal('setting depth', 'm', model.settingDepthM, model.settingDepthSdM, model.settingDepthSource),
    lognormal('girth at ground line', 'm', {
      median: Math.PI * shape.diametersM[0]!,
      logSd: model.groundlineGirthLogSd,
      source: 'tape and taper (ours)',
    }),
    normal(
      'girth at the tip',
      'm',
      Math.PI * tipM,
      Math.PI * model.tipDiameterSdM,
      'tape or usual taper (ours)',
    ),
    ...model.masses.map(({ heightM, massKg, logSd }) =>
      lognormal(`mass at ${heightM} m`, 'kg', { median: massKg, logSd, source: 'visit, or usual (ours)' }),
    ),
    ...model.cables.map(({ heightM, stiffnessNPerM, logSd }) =>
      lognormal(`cable at ${heightM} m`, 'N/m', {
        median: stiffnessNPerM,
        logSd,
        source: 'visit, or usual (ours)',
      }),
    ),
  ];
}
