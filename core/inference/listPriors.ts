import type { Assessment } from '../assessment.ts';
import { Z_OF_90_PERCENT } from '../ninetyPercent.ts';
import type { LognormalPrior, PoleModel } from './poleModel.ts';

type Prior = Assessment['priors'][number];

/** Names of the priors that strength needs of a result. */
export const STEM_MODULUS = 'stem modulus';
export const DENSITY = 'density';
export const SETTING_DEPTH = 'setting depth';
export const GROUNDLINE_GIRTH = 'girth at ground line';
export const TIP_GIRTH = 'girth at the tip';

/**
 * What a pole model takes as known before any recording, as a reader wants it: median, 90 % range, standard deviation,
 * unit, source. `setBy` names the field of the visit file that sets it and `isGiven` whether this visit does:
 * those under `options.priors` are changed by {@link overridePriors}, the others by correcting what was measured.
 */
export function listPriors(model: PoleModel): Prior[] {
  const own = (name: string) => ({
    setBy: `options.priors.${name}`,
    isGiven: model.givenPriors.includes(name),
  });
  const { root, shape } = model;
  const { chance, source } = model.rootChance;
  const tipM = shape.diametersM.at(-1)!;
  return [
    { ...lognormal(STEM_MODULUS, 'Pa', model.modulus), ...own('modulusPa') },
    { ...lognormal(DENSITY, 'kg/m3', model.density), ...own('densityKgPerM3') },
    root.model === 'spring'
      ? {
          ...lognormal('stiffness of a spring root', 'N m/rad', model.rootStiffness),
          ...own('rotationalStiffnessNmPerRad'),
        }
      : {
          ...lognormal('soil modulus', root.subgrade === 'linear' ? 'N/m3' : 'N/m2', model.rootStiffness),
          ...own('soilModulus'),
        },
    ...(chance < 1
      ? [
          {
            ...{ name: `chance of a ${root.model} root`, unit: 'of 1', source },
            ...{ median: chance, low: chance, high: chance },
            setBy: `options.priors.rootModels.${root.model}`,
            isGiven: model.givenPriors.includes('rootModels'),
          },
        ]
      : []),
    {
      ...normal(SETTING_DEPTH, 'm', model.settingDepthM, model.settingDepthSdM, model.settingDepthSource),
      ...own('settingDepthM'),
    },
    {
      ...lognormal(GROUNDLINE_GIRTH, 'm', {
        median: Math.PI * shape.diametersM[0]!,
        logSd: model.groundlineGirthLogSd,
        source: 'tape and taper (ours)',
      }),
      setBy: 'measured.circumferences',
      isGiven: true,
    },
    {
      ...normal(TIP_GIRTH, 'm', Math.PI * tipM, Math.PI * model.tipDiameterSdM, model.tipSource),
      ...own('tipGirthM'),
    },
    ...model.masses.map(({ heightM, massKg, logSd, origin }) => ({
      ...lognormal(`mass at ${heightM} m`, 'kg', { median: massKg, logSd, source: sourceOf(origin.isGiven) }),
      ...origin,
    })),
    ...model.cables.map(({ heightM, stiffnessNPerM, logSd, origin }) => ({
      ...lognormal(`cable at ${heightM} m`, 'N/m', {
        median: stiffnessNPerM,
        logSd,
        source: sourceOf(origin.isGiven),
      }),
      ...origin,
    })),
  ];
}

function sourceOf(isGiven: boolean): string {
  return isGiven ? 'visit; its spread ours' : 'usual cable (ours)';
}

function lognormal(name: string, unit: string, { median, logSd, source }: LognormalPrior): Prior {
  return {
    name,
    median,
    low: median * Math.exp(-Z_OF_90_PERCENT * logSd),
    high: median * Math.exp(Z_OF_90_PERCENT * logSd),
    unit,
    source,
    spread: { of: 'ln', sd: logSd },
  };
}

function normal(name: string, unit: string, median: number, sd: number, source: string): Prior {
  return {
    name,
    median,
    low: median - Z_OF_90_PERCENT * sd,
    high: median + Z_OF_90_PERCENT * sd,
    unit,
    source,
    spread: { of: 'value', sd },
  };
}
