import { adjustForMoisture } from './adjustForMoisture.ts';
import { adjustModulusForTemperature } from './adjustModulusForTemperature.ts';
import type { Lognormal } from './lognormal.ts';
import { moistureOfStem } from './moistureOfStem.ts';
import { describeSpecies, type Species } from './speciesWood.ts';
import type { Wood } from './woods.ts';

/** Temperature taken where none was measured: that of the tabulated values. */
const REFERENCE_TEMPERATURE_C = 21;

/** Standard deviation of an unmeasured wood temperature over seasons. Assumed. */
const UNKNOWN_TEMPERATURE_SD_C = 12;

/**
 * Computes the ratio of a stem's modulus of elasticity, at its moisture and temperature, to that of
 * the same wood green at 21 degC, with the uncertainty that moisture and temperature leave.
 * @param moisturePercent - mean of the stem above ground; null: assumed with a wide spread
 * @param temperatureC - of the wood; null: 21 degC with a wide spread
 */
export function stemModulusRatio(
  species: Species,
  moisturePercent: number | null,
  temperatureC: number | null,
): Lognormal {
  const { woods } = describeSpecies(species);
  const moisture = moistureOfStem(moisturePercent);
  const logAt = (percent: number, celsius: number | null) => meanLogRatio(woods, percent, celsius);
  const driest = Math.max(0, moisture.percent - moisture.sdPercent);
  const wettest = moisture.percent + moisture.sdPercent;
  const moistureLogSd = (logAt(driest, temperatureC) - logAt(wettest, temperatureC)) / 2;
  const coldest = REFERENCE_TEMPERATURE_C - UNKNOWN_TEMPERATURE_SD_C;
  const warmest = REFERENCE_TEMPERATURE_C + UNKNOWN_TEMPERATURE_SD_C;
  const temperatureLogSd =
    temperatureC === null ? (logAt(moisture.percent, coldest) - logAt(moisture.percent, warmest)) / 2 : 0;
  return {
    median: Math.exp(logAt(moisture.percent, temperatureC)),
    logSd: Math.hypot(moistureLogSd, temperatureLogSd),
  };
}

function meanLogRatio(woods: readonly Wood[], moisturePercent: number, temperatureC: number | null): number {
  const logs = woods.map((wood) => {
    const { modulus12Pa, modulusGreenPa, intersectionPercent } = wood;
    const atReferencePa = adjustForMoisture(
      modulus12Pa,
      modulusGreenPa,
      moisturePercent,
      intersectionPercent,
    );
    const modulusPa =
      temperatureC === null
        ? atReferencePa
        : adjustModulusForTemperature(atReferencePa, temperatureC, moisturePercent, intersectionPercent);
    return Math.log(modulusPa / modulusGreenPa);
  });
  return logs.reduce((sum, log) => sum + log, 0) / logs.length;
}
