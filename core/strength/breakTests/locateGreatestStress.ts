/** From this share of the groundline diameter on the stress of a tapered cantilever is greatest at ground line. */
const GREATEST_AT = 1.5;

/**
 * Tells where the stress of a straight-tapered cantilever is greatest under a load at its upper end: where its diameter is 1.5 times that
 * under the load, or at ground line where it is nowhere so thick. Stress goes as (L - z) / d(z)^3; setting its derivative to nothing gives d = 3/2 of
 * the diameter under the load.
 * @returns height above ground line, and that stress over the stress at ground line
 */
export function locateGreatestStress(pole: {
  readonly loadHeightM: number;
  readonly groundlineDiameterM: number;
  /** Under the load. */
  readonly loadDiameterM: number;
}): { heightM: number; overGroundline: number } {
  const { loadHeightM, groundlineDiameterM, loadDiameterM } = pole;
  const diameterM = GREATEST_AT * loadDiameterM;
  if (diameterM >= groundlineDiameterM) return { heightM: 0, overGroundline: 1 };
  const share = (groundlineDiameterM - diameterM) / (groundlineDiameterM - loadDiameterM);
  return {
    heightM: share * loadHeightM,
    overGroundline: (1 - share) * (groundlineDiameterM / diameterM) ** 3,
  };
}
