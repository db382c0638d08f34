import { checkSamples } from './checkSamples.ts';
import { layOutSegments, type SegmentOptions } from './segmentPower.ts';

export interface Spectrogram {
  /** Middle of each segment, from the first sample. */
  readonly timeS: Float64Array;
  readonly frequencyHz: Float64Array;
  /**
   * Power densities, unit of the samples squared per Hz, one-sided; segment t and bin k at t *
   * frequencyHz.length + k.
   */
  readonly density: Float64Array;
}

/**
 * Computes the power density of short overlapping segments over time (short-time Fourier transform, squared);
 * each segment less its mean; see `segmentPower.ts` for scaling and source.
 * @param samples - 2 or more finite values
 * @throws InputError `signal.samples`, `signal.rate`
 */
export function computeSpectrogram(samples: Float64Array, options: SegmentOptions): Spectrogram {
  checkSamples(samples, options.sampleRateHz, 2);
  const { length, hop, count, frequencyHz, addPower } = layOutSegments(samples, options);
  const density = new Float64Array(count * frequencyHz.length);
  const timeS = new Float64Array(count);
  for (let t = 0; t < count; t++) {
    timeS[t] = (t * hop + length / 2) / options.sampleRateHz;
    addPower(t, density, t * frequencyHz.length);
  }
  return { timeS, frequencyHz, density };
}
