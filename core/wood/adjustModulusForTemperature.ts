/** One printed line: change in % of the value at 70 degF is `a + b T`, T in degF between `fromF` and `toF`. */
type TemperatureLine = {
  readonly a: number;
  readonly b: number;
  readonly fromF: number;
  readonly toF: number;
};

const GREEN_FROZEN: TemperatureLine = { a: 22.035, b: -0.4578, fromF: 0, toF: 32 };
const GREEN_THAWED: TemperatureLine = { a: 13.1215, b: -0.1793, fromF: 32, toF: 150 };
const DRY: TemperatureLine = { a: 7.8553, b: -0.1108, fromF: -15, toF: 150 };

const DRY_PERCENT = 12;
const FREEZING_F = 32;

/**
 * Computes the modulus of elasticity at a temperature from that at 21 degC (70 degF).
 * Lines of Table 5-16 for lumber, all grades: one for 12 % moisture, two for green wood that meet at
 * freezing. Between 12 % and the intersection moisture the change is interpolated (assumed); beyond the
 * printed temperatures (12 %: -26..66 degC, green: -18..66 degC) the end value holds.
 * @param modulusPa - at 21 degC
 * @param temperatureC - of the wood
 * @param moisturePercent - moisture content on oven-dry mass
 * @param intersectionPercent - of the species, above 12
 * Source: USDA Wood Handbook FPL-GTR-190 (2010), Table 5-16, read in a public copy that lost the minus signs;
 * signs from a transcription of FPL-GTR-282 and from both green lines meeting at 32 degF.
 */
export function adjustModulusForTemperature(
  modulusPa: number,
  temperatureC: number,
  moisturePercent: number,
  intersectionPercent: number,
): number {
  const temperatureF = (temperatureC * 9) / 5 + 32;
  const greenChange = changePercent(temperatureF < FREEZING_F ? GREEN_FROZEN : GREEN_THAWED, temperatureF);
  const dryChange = changePercent(DRY, temperatureF);
  const wetness = clamp((moisturePercent - DRY_PERCENT) / (intersectionPercent - DRY_PERCENT), 0, 1);
  return modulusPa * (1 + (dryChange + wetness * (greenChange - dryChange)) / 100);
}

function changePercent(line: TemperatureLine, temperatureF: number): number {
  return line.a + line.b * clamp(temperatureF, line.fromF, line.toF);
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}
