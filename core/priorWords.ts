import type { Priors } from './recording/index.ts';

/** What priors that can be set by hand are called. */
export const PRIOR_WORDS = {
  modulusPa: 'stem modulus',
  densityKgPerM3: 'density',
  soilModulus: 'soil modulus',
  rotationalStiffnessNmPerRad: 'stiffness of a spring root',
  rootModels: 'shares of the root models',
  settingDepthM: 'setting depth',
  tipGirthM: 'girth at the tip',
} as const satisfies Record<keyof Priors, string>;
