import { densityPrior } from './densityPrior.ts';
import type { Species } from './speciesWood.ts';

export type DensityOffSpecies = {
  /** What wood of the species weighs at that moisture, without what is told. */
  readonly leastKgPerM3: number;
  readonly mostKgPerM3: number;
  /** So far off that it is a slip, or another species. */
  readonly isRefused: boolean;
};

/** Standard deviations of the logarithm from which a density is told: one sound pole in eighty is as far off (ours). */
const TOLD_SDS = 2.5;
/** The same from which no wood of the species weighs it: one sound pole in sixteen thousand (ours). */
const REFUSED_SDS = 4;

/**
 * Holds a measured density, moisture included, against the species at that moisture; null where it is one of it.
 * @param moisturePercent - as measured; null: assumed, and the range widens
 */
export function judgeDensity(
  densityKgPerM3: number,
  species: Species,
  moisturePercent: number | null,
): DensityOffSpecies | null {
  const { medianKgPerM3, logSd } = densityPrior(species, moisturePercent);
  const sds = Math.abs(Math.log(densityKgPerM3 / medianKgPerM3)) / logSd;
  if (sds <= TOLD_SDS) return null;
  return {
    leastKgPerM3: medianKgPerM3 * Math.exp(-TOLD_SDS * logSd),
    mostKgPerM3: medianKgPerM3 * Math.exp(TOLD_SDS * logSd),
    isRefused: sds > REFUSED_SDS,
  };
}
