/** Spread of a lognormal prior: a factor of twelve either way holds nine in ten. */
const WIDEST_LOG_SD = 1.5;

/** Least and most median of each prior in its unit, and its greatest spread: of the natural logarithm, or in m of a length. */
export const PRIOR_LIMITS = {
  modulusPa: { least: 1e8, most: 1e12, widest: WIDEST_LOG_SD },
  densityKgPerM3: { least: 50, most: 3000, widest: WIDEST_LOG_SD },
  soilModulus: { least: 1e4, most: 1e10, widest: WIDEST_LOG_SD },
  rotationalStiffnessNmPerRad: { least: 1e2, most: 1e10, widest: WIDEST_LOG_SD },
  settingDepthM: { least: 0.3, most: 6, widest: 1 },
  tipGirthM: { least: 0.1, most: 3, widest: 0.5 },
} as const;

/** A pole is set less deep than this: half of its length. */
export function deepestSettingM(lengthM: number): number {
  return lengthM / 2;
}
