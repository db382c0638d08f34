import { buildLowPassTaps } from '../recording/index.ts';

/**
 * Computes a low-passed copy of samples, shifted by nothing, at every `step`-th sample; see `buildLowPassTaps`
 * for what passes. Ends are continued by their last value.
 * @param samples - one or more values
 * @param cutOff - frequency at which half the amplitude passes, 1 = half the sample rate
 * @param step - whole number from 1 on
 * @returns ceil(length / step) samples; sample i lies at sample i * step of the input
 */
export function filterLowPass(samples: Float64Array, cutOff: number, step: number): Float64Array {
  const taps = buildLowPassTaps(cutOff);
  const reach = taps.length >> 1;
  const last = samples.length - 1;
  const out = new Float64Array(Math.ceil(samples.length / step));
  for (let i = 0; i < out.length; i++) {
    const from = i * step - reach;
    let sum = 0;
    if (from >= 0 && from + 2 * reach <= last) {
      for (let j = 0; j < taps.length; j++) sum += taps[j]! * samples[from + j]!;
    } else {
      for (let j = 0; j < taps.length; j++) sum += taps[j]! * samples[Math.min(Math.max(from + j, 0), last)]!;
    }
    out[i] = sum;
  }
  return out;
}
