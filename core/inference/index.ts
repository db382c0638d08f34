/**
 * Inference: from mode picks to stem and root. Turns a visit's record into priors, tabulates the beam's frequencies,
 * weighs which pick is which mode, and integrates the posterior of stem modulus and root stiffness with all uncertain
 * inputs; says how much the picks told and what would tell more.
 */
export { type Assignment, assignModes, type NumberlessPick } from './assignModes.ts';
export { compareOwnPriors } from './compareOwnPriors.ts';
export type { Pick } from './data.ts';
export { describePole, rootModelsOf } from './describePole.ts';
export { fitRoots, type RootMixture } from './fitRoots.ts';
export { fitStemAndRoot, ODD_FROM, type StemRootPosterior } from './fitStemAndRoot.ts';
export { type FrequencyTable, tabulateFrequencies } from './frequencyTable.ts';
export { gatherExtras, type MeasuredShape } from './gatherExtras.ts';
export { highestModeHz } from './highestModeHz.ts';
export {
  DENSITY,
  GROUNDLINE_GIRTH,
  listPriors,
  SETTING_DEPTH,
  STEM_MODULUS,
  TIP_GIRTH,
} from './listPriors.ts';
export { type NextMeasurement, rankNextMeasurements } from './nextMeasurement.ts';
export { overridePriors, type PriorChanges } from './overridePriors.ts';
export { pictureStemRoot } from './pictureStemRoot.ts';
export type { PoleModel } from './poleModel.ts';
export { type PoleChange, predictWhatIf } from './predictWhatIf.ts';
export { ratioFloor } from './ratioFloor.ts';
export { type StemRootSummary, summarisePosterior } from './summarisePosterior.ts';
