import { decimate } from '../decimate.ts';
import { filterLowPass } from '../filterLowPass.ts';
import { measureRms } from '../ringDown.ts';

/** Rattle is looked for above the modes that matter and below 2 kHz, where a strap and its bolt tap. */
export const TAPPING_ABOVE_HZ = 150;
const RATE_HZ = 2000;

/**
 * Parts a stretch into the swing of the modes and what taps above them, by a filter that shifts nothing.
 * @returns root mean squares about the mean; null where the sample rate is too low to hold both
 */
export function readTapping(
  samples: Float64Array,
  sampleRateHz: number,
): { readonly swing: number; readonly tapping: number } | null {
  const factor = Math.max(1, Math.floor(sampleRateHz / RATE_HZ));
  const rateHz = sampleRateHz / factor;
  if (rateHz < 4 * TAPPING_ABOVE_HZ) return null;
  const whole = decimate(samples, factor);
  const low = filterLowPass(whole, (2 * TAPPING_ABOVE_HZ) / rateHz, 1);
  for (let i = 0; i < whole.length; i++) whole[i]! -= low[i]!;
  return { swing: measureRms(low, 0, low.length), tapping: measureRms(whole, 0, whole.length) };
}
