import { checkSamples } from './checkSamples.ts';
import { layOutSegments, type SegmentOptions } from './segmentPower.ts';

export interface PowerDensity {
  readonly frequencyHz: Float64Array;
  /** Unit of the samples squared, per Hz; one-sided. */
  readonly density: Float64Array;
  readonly segments: number;
}

/**
 * Computes the one-sided power spectral density by Welch's method: the mean over overlapping segments, each
 * less its mean; see `segmentPower.ts` for scaling and source.
 * @param samples - 2 or more finite values
 * @throws InputError `signal.samples`, `signal.rate`
 */
export function computePsd(samples: Float64Array, options: SegmentOptions): PowerDensity {
  checkSamples(samples, options.sampleRateHz, 2);
  const segments = layOutSegments(samples, options);
  const density = new Float64Array(segments.frequencyHz.length);
  for (let i = 0; i < segments.count; i++) segments.addPower(i, density, 0);
  for (let k = 0; k < density.length; k++) density[k] = density[k]! / segments.count;
  return { frequencyHz: segments.frequencyHz, density, segments: segments.count };
}
