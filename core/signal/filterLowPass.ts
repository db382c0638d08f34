import { correlateBlock } from '../kernel/index.ts';
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
  const first = Math.min(Math.ceil(reach / step), out.length);
  const end = Math.max(Math.floor((last - reach) / step) + 1, first);
  correlateBlock(samples.subarray(first * step - reach), taps, step, out.subarray(first, end));
  for (let i = 0; i < first; i++) out[i] = filterNearEnd(samples, taps, i * step);
  for (let i = end; i < out.length; i++) out[i] = filterNearEnd(samples, taps, i * step);
  return out;
}

/** The filter's output at a sample, ends continued. */
function filterNearEnd(samples: Float64Array, taps: Float64Array, at: number): number {
  const first = at - (taps.length >> 1);
  const last = samples.length - 1;
  let sum = 0;
  for (let j = 0; j < taps.length; j++) sum += taps[j]! * samples[Math.min(Math.max(first + j, 0), last)]!;
  return sum;
}
