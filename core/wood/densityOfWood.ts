/** Fibre saturation in the handbook's shrinkage relation, in %. */
const SATURATION_PERCENT = 30;

/** Volumetric shrinkage from green to oven-dry over basic specific gravity, average of many woods. */
const SHRINKAGE_PER_GRAVITY = 0.265;

const WATER_KG_PER_M3 = 1000;

/**
 * Computes the density of wood with its moisture: 1000 G_M (1 + M/100) kg/m3, where
 * G_M = G_b / (1 - 0.265 a G_b) with a = (30 - M)/30 below 30 % moisture, and G_M = G_b above.
 * @param basicSpecificGravity - oven-dry mass over green volume
 * @param moisturePercent - moisture content on oven-dry mass, 0 or more
 * @param retentionKgPerM3 - preservative held, averaged over the whole section. @default 0
 * Source: Simpson 1993, FPL-GTR-76, and the Wood Handbook's chapter 4, from memory; it gives the 12 % column of
 * specific gravity of Table 5-3a from its green column within rounding, red pine apart (0.44 for 0.46).
 */
export function densityOfWood(
  basicSpecificGravity: number,
  moisturePercent: number,
  retentionKgPerM3 = 0,
): number {
  const dryness = Math.max(0, (SATURATION_PERCENT - moisturePercent) / SATURATION_PERCENT);
  const gravity = basicSpecificGravity / (1 - SHRINKAGE_PER_GRAVITY * dryness * basicSpecificGravity);
  return WATER_KG_PER_M3 * gravity * (1 + moisturePercent / 100) + retentionKgPerM3;
}
