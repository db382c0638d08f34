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
  const middle = taps[reach]!;
  for (let i = 0; i < out.length; i++) {
    const at = i * step;
    let sum = middle * samples[at]!;
    if (at >= reach && at + reach <= last) {
      for (let j = 1; j <= reach; j++) sum += taps[reach + j]! * (samples[at - j]! + samples[at + j]!);
    } else {
      for (let j = 1; j <= reach; j++) {
        sum += taps[reach + j]! * (samples[Math.max(at - j, 0)]! + samples[Math.min(at + j, last)]!);
      }
    }
    out[i] = sum;
  }
  return out;
}
