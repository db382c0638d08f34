import { densityOfWood } from './densityOfWood.ts';
import { moistureOfStem } from './moistureOfStem.ts';
import { describeSpecies, type Species } from './speciesWood.ts';

/** Preservative adds between nothing and about a tenth over the whole section; taken as spread only. Assumed. */
const PRESERVATIVE_LOG_SD = 0.05;

/**
 * States the density, moisture included, that a stem of a species is expected to have: lognormal over poles.
 * @param moisturePercent - mean of the stem above ground, on oven-dry mass; null: assumed, and the prior widens
 */
export function densityPrior(
  species: Species,
  moisturePercent: number | null,
): { medianKgPerM3: number; logSd: number; source: string } {
  const { basicSpecificGravity, source } = describeSpecies(species);
  const moisture = moistureOfStem(moisturePercent);
  const densityAt = (percent: number) => densityOfWood(basicSpecificGravity.median, percent);
  const driest = Math.max(0, moisture.percent - moisture.sdPercent);
  const moistureLogSd = Math.log(densityAt(moisture.percent + moisture.sdPercent) / densityAt(driest)) / 2;
  return {
    medianKgPerM3: densityAt(moisture.percent),
    logSd: Math.hypot(basicSpecificGravity.logSd, moistureLogSd, PRESERVATIVE_LOG_SD),
    source: moisturePercent === null ? `${source}; moisture assumed (common practice, no source)` : source,
  };
}
