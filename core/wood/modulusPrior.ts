import { describeSpecies, type Species } from './speciesWood.ts';
import { stemModulusRatio } from './stemModulusRatio.ts';

/**
 * States what modulus of elasticity a stem of a species is expected to have before it is struck: lognormal over
 * poles, shear deflection taken out, at the stem's moisture and temperature.
 * @param moisturePercent - mean of the stem above ground, on oven-dry mass; null: assumed, and the prior widens
 * @param temperatureC - of the wood; null: 21 degC, and the prior widens
 */
export function modulusPrior(
  species: Species,
  moisturePercent: number | null,
  temperatureC: number | null,
): { medianPa: number; logSd: number; source: string } {
  const { modulusGreenPa, source } = describeSpecies(species);
  const ratio = stemModulusRatio(species, moisturePercent, temperatureC);
  return {
    medianPa: modulusGreenPa.median * ratio.median,
    logSd: Math.hypot(modulusGreenPa.logSd, ratio.logSd),
    source: moisturePercent === null ? `${source}; moisture assumed (common practice, no source)` : source,
  };
}
