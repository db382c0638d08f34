import { type FrequencyTable, highestModeHz, type PoleModel } from './inference/index.ts';
import type { PlausibleBand } from './modal/index.ts';
import { greatestOf, leastOf } from './vectors.ts';

/** Girths, masses and cables move a mode by less than this share beyond what stem and root alone explain (ours). */
const MARGIN_LOG = 0.15;

/** By plane, where each mode of a pole may lie over all stems and roots that its tables hold. */
export function listPlausibleBands(tables: readonly FrequencyTable[]): PlausibleBand[][] {
  const [usual] = tables;
  if (usual === undefined) return [];
  return usual.azimuthsDeg.map((_, plane) =>
    usual.logFrequency[plane]!.map((_, mode) => {
      const extremes = tables.flatMap(({ logFrequency }) => {
        const all = logFrequency[plane]![mode]!;
        return [leastOf(all), greatestOf(all)];
      });
      return {
        number: mode + 1,
        lowHz: Math.exp(Math.min(...extremes) - MARGIN_LOG),
        highHz: Math.exp(Math.max(...extremes) + MARGIN_LOG),
      };
    }),
  );
}

/** Above every mode that any of these models of a pole may have in any plane. */
export function plausibleReachHz(models: readonly PoleModel[]): number {
  return Math.exp(MARGIN_LOG) * Math.max(...models.map(highestModeHz));
}
