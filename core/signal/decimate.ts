import { DECIMATION_PASS_SHARE } from '../recording/index.ts';
import { filterLowPass } from './filterLowPass.ts';

/**
 * Lowers the sample rate by a whole factor behind a low-pass filter that shifts nothing (a sinc under a Hann
 * taper, see `buildLowPassTaps`). Flat within 0.7 % up to 0.3 of the new rate, half the amplitude at 0.4, below
 * -43 dB at half the new rate; what folds back into the flat band is below -72 dB. At 1 Hz the gain departs
 * from 1 by 2e-6 at a new rate of 500 Hz, and by 1.4e-4 at 50 Hz.
 * @param samples - one or more values
 * @param factor - whole number from 1 on; 1 gives a copy
 * @returns ceil(length / factor) samples; sample i lies at sample i * factor of the input
 */
export function decimate(samples: Float64Array, factor: number): Float64Array {
  return factor === 1 ? samples.slice() : filterLowPass(samples, DECIMATION_PASS_SHARE / factor, factor);
}
