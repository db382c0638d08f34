/** Moisture of a pole above ground where none was measured: 20 to 30 % is common practice, no source. */
const ASSUMED_MOISTURE_PERCENT = 25;

/** Standard deviation of the stem's mean moisture about the assumed one. Assumed. */
const UNKNOWN_MOISTURE_SD_PERCENT = 8;

/** Standard deviation of the stem's mean moisture about a reading, which is of one place near the surface. Assumed. */
const READING_SD_PERCENT = 3;

/**
 * States the mean moisture of the stem above ground and its standard deviation, both in % of oven-dry mass.
 * @param moisturePercent - as measured; null where it was not
 */
export function moistureOfStem(moisturePercent: number | null): { percent: number; sdPercent: number } {
  return moisturePercent === null
    ? { percent: ASSUMED_MOISTURE_PERCENT, sdPercent: UNKNOWN_MOISTURE_SD_PERCENT }
    : { percent: moisturePercent, sdPercent: READING_SD_PERCENT };
}
