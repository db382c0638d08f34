import { densityPrior } from './densityPrior.ts';
import type { Species } from './speciesWood.ts';

type DensityOffSpecies = {
  /** So far off that it is a slip, or another species. */
  readonly isRefused: boolean;
  /** The density, and what wood of the species weighs without being told, in sentences. */
  readonly words: string;
  readonly advice: string;
};

/** Standard deviations of the logarithm from which a density is told: one sound pole in eighty is as far off (ours). */
const TOLD_SDS = 2.5;
/** The same from which no wood of the species weighs it: one sound pole in sixteen thousand (ours). */
const REFUSED_SDS = 4;

/**
 * Holds a density, moisture included, against the species at that moisture; null where it is one of it.
 * @param moisturePercent - as measured; null: assumed, and the range widens
 * @param options.isSetByHand - in place of what was measured @default false
 * @param options.say - a density in kg/m³, in words @default in kg/m³
 */
export function judgeDensity(
  densityKgPerM3: number,
  species: Species,
  moisturePercent: number | null,
  { isSetByHand = false, say = sayMetric } = {},
): DensityOffSpecies | null {
  const { medianKgPerM3, logSd } = densityPrior(species, moisturePercent);
  const sds = Math.abs(Math.log(densityKgPerM3 / medianKgPerM3)) / logSd;
  if (sds <= TOLD_SDS) return null;
  const [least, most] = [-TOLD_SDS, TOLD_SDS].map((at) => say(medianKgPerM3 * Math.exp(at * logSd)));
  const moisture = moisturePercent === null ? 'the usual moisture' : `${moisturePercent} % moisture`;
  return {
    isRefused: sds > REFUSED_SDS,
    words: `A density of ${say(densityKgPerM3)} was ${isSetByHand ? 'set by hand' : 'measured'}, where wood of this species weighs ${least} to ${most} at ${moisture}. The modulus goes with it.`,
    advice: 'Check density, moisture and species.',
  };
}

function sayMetric(densityKgPerM3: number): string {
  return `${densityKgPerM3.toFixed(0)} kg/m³`;
}
