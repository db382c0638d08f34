/**
 * Wood and poles as handbooks and standards know them, each value with its source and how far to trust it.
 * Species, moisture, temperature, density, priors of modulus and density, and pole classes; a low room that
 * inference and strength build on. Nothing here is measured on the pole at hand.
 */
export { adjustForMoisture } from './adjustForMoisture.ts';
export { adjustModulusForTemperature } from './adjustModulusForTemperature.ts';
export {
  CLASS_LOAD_BELOW_TIP_M,
  findLowerCircumference,
  findPoleClass,
  isPoleClass,
  listPoleClasses,
} from './ansiClasses.ts';
export { densityOfWood } from './densityOfWood.ts';
export { densityPrior } from './densityPrior.ts';
export { findFibreStress } from './fibreStress.ts';
export { type ClassGirths, findClassGirths } from './findClassGirths.ts';
export { guessGirthSlip } from './guessGirthSlip.ts';
export { judgeDensity } from './judgeDensity.ts';
export type { Lognormal } from './lognormal.ts';
export { LONG_POLE_M } from './longPole.ts';
export { modulusPrior } from './modulusPrior.ts';
export { describeSpecies, isSpecies, type Species } from './speciesWood.ts';
export { stemModulusRatio } from './stemModulusRatio.ts';
export { INTERSECTION_SOURCE, POLE_STRENGTH_VARIATION, type ValueStatus, WOODS } from './woods.ts';
