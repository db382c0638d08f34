import { checkSamples } from './checkSamples.ts';
import { chooseTransformSize, countBins, transformReal } from './transformReal.ts';
import { buildWindow, computeNoiseBandwidthBins, type WindowKind } from './windows.ts';

export interface AmplitudeSpectrum {
  /** Bin k lies at k / (size / sampleRateHz) Hz; size / 2 + 1 bins from 0 to half the sample rate, or as far as was wanted. */
  readonly frequencyHz: Float64Array;
  /** Peak amplitude of a sine at each bin, in the unit of the samples. */
  readonly amplitude: Float64Array;
  /** Distance of two bins after padding. */
  readonly binHz: number;
  /**
   * Width of the ideal filter that passes the same noise; what the window and the length of the record really
   * resolve.
   */
  readonly noiseBandwidthHz: number;
}

export interface AmplitudeSpectrumOptions {
  readonly sampleRateHz: number;
  /** @default 'hann' */
  readonly window?: WindowKind;
  /** Zeros are added until bins lie at most this far apart, for smooth lines on a plot. @default none */
  readonly minimumResolutionHz?: number;
  /** Bins above are left out. @default half the sample rate */
  readonly maximumHz?: number;
}

/**
 * Computes the one-sided amplitude spectrum: |X[k]| / sum(w), doubled except at 0 Hz and half the sample
 * rate, so that a steady sine of amplitude A at a bin shows A. The record is padded with zeros to a power of
 * two. A decaying sine shows less than its first amplitude. The mean is not removed.
 * @param samples - one or more finite values
 * @throws InputError `signal.samples`, `signal.rate`
 */
export function computeAmplitudeSpectrum(
  samples: Float64Array,
  options: AmplitudeSpectrumOptions,
): AmplitudeSpectrum {
  const { sampleRateHz, window = 'hann', minimumResolutionHz, maximumHz = sampleRateHz / 2 } = options;
  checkSamples(samples, sampleRateHz, 1);
  const weights = buildWindow(window, samples.length);
  const weighted = new Float64Array(samples.length);
  let weightSum = 0;
  for (let i = 0; i < samples.length; i++) {
    weighted[i] = samples[i]! * weights[i]!;
    weightSum += weights[i]!;
  }
  const wanted = minimumResolutionHz === undefined ? 0 : Math.ceil(sampleRateHz / minimumResolutionHz);
  const size = chooseTransformSize(Math.max(samples.length, wanted));
  const transformed = transformReal(weighted, size);
  const binHz = sampleRateHz / size;
  const bins = countBins(size, binHz, maximumHz);
  const frequencyHz = new Float64Array(bins);
  const amplitude = new Float64Array(bins);
  for (let k = 0; k < bins; k++) {
    const sides = k === 0 || k === size / 2 ? 1 : 2;
    frequencyHz[k] = k * binHz;
    amplitude[k] = (sides * Math.hypot(transformed[2 * k]!, transformed[2 * k + 1]!)) / weightSum;
  }
  const noiseBandwidthHz = (computeNoiseBandwidthBins(weights) * sampleRateHz) / samples.length;
  return { frequencyHz, amplitude, binHz, noiseBandwidthHz };
}
