import { buildLowPassTaps, filterBlock } from '../recording/index.ts';

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
  const continued = new Float64Array(samples.length + 2 * reach);
  continued.fill(samples[0]!, 0, reach);
  continued.set(samples, reach);
  continued.fill(samples.at(-1)!, reach + samples.length);
  const out = new Float64Array(Math.ceil(samples.length / step));
  filterBlock(continued, taps, step, out);
  return out;
}
