/** Moisture of the tabulated dry values, in %. */
const DRY_PERCENT = 12;

/**
 * Computes a clear-wood property at a moisture content: P = P12 (P12 / Pg)^((12 - M) / (Mp - 12)).
 * At and above the intersection moisture wood is as green: the green value.
 * @param value12 - the property at 12 % moisture, above 0
 * @param valueGreen - the same in green wood, same unit, above 0
 * @param moisturePercent - moisture content on oven-dry mass, 0 or more
 * @param intersectionPercent - Mp of the species, above 12
 * Source: USDA Wood Handbook FPL-GTR-190 and FPL-GTR-282, Equation 5-3, for wood at about 21 degC.
 */
export function adjustForMoisture(
  value12: number,
  valueGreen: number,
  moisturePercent: number,
  intersectionPercent: number,
): number {
  if (moisturePercent >= intersectionPercent) return valueGreen;
  const exponent = (DRY_PERCENT - moisturePercent) / (intersectionPercent - DRY_PERCENT);
  return value12 * (value12 / valueGreen) ** exponent;
}
