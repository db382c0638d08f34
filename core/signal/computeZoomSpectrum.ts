import { InputError } from '../errors.ts';
import { checkSamples } from './checkSamples.ts';
import type { AmplitudeSpectrum } from './computeAmplitudeSpectrum.ts';
import { transformZoomed } from './transformZoomed.ts';
import { buildWindow, computeNoiseBandwidthBins, type WindowKind } from './windows.ts';

export interface ZoomSpectrumOptions {
  readonly sampleRateHz: number;
  readonly fromHz: number;
  readonly toHz: number;
  /** Frequencies from `fromHz` to `toHz`, both among them: 2 or more. */
  readonly lines: number;
  /** @default 'hann' */
  readonly window?: WindowKind;
}

/**
 * Computes the amplitude spectrum at evenly spaced frequencies round a mode, scaled as in
 * `computeAmplitudeSpectrum`. More lines draw a peak more smoothly; what the record resolves stays
 * `noiseBandwidthHz`.
 * @param samples - one or more finite values
 * @throws InputError `signal.samples`, `signal.rate`, `signal.zoom` for a range that is empty or beyond half the
 *   sample rate
 */
export function computeZoomSpectrum(samples: Float64Array, options: ZoomSpectrumOptions): AmplitudeSpectrum {
  const { sampleRateHz, fromHz, toHz, lines, window = 'hann' } = options;
  checkSamples(samples, sampleRateHz, 1);
  if (!(fromHz >= 0 && toHz > fromHz && toHz <= sampleRateHz / 2 && lines >= 2)) {
    throw new InputError(
      'signal.zoom',
      `The zoomed range is ${fromHz} to ${toHz} Hz in ${lines} lines; a range within 0 to ${sampleRateHz / 2} Hz and 2 lines or more are expected.`,
      'Choose a range round a mode, below half the sample rate.',
    );
  }
  const weights = buildWindow(window, samples.length);
  const weighted = new Float64Array(samples.length);
  let weightSum = 0;
  for (let i = 0; i < samples.length; i++) {
    weighted[i] = samples[i]! * weights[i]!;
    weightSum += weights[i]!;
  }
  const binHz = (toHz - fromHz) / (lines - 1);
  const transformed = transformZoomed(weighted, {
    start: fromHz / sampleRateHz,
    step: binHz / sampleRateHz,
    count: lines,
  });
  const frequencyHz = new Float64Array(lines);
  const amplitude = new Float64Array(lines);
  for (let k = 0; k < lines; k++) {
    frequencyHz[k] = fromHz + k * binHz;
    const sides = frequencyHz[k] === 0 || frequencyHz[k] === sampleRateHz / 2 ? 1 : 2;
    amplitude[k] = (sides * Math.hypot(transformed[2 * k]!, transformed[2 * k + 1]!)) / weightSum;
  }
  const noiseBandwidthHz = (computeNoiseBandwidthBins(weights) * sampleRateHz) / samples.length;
  return { frequencyHz, amplitude, binHz, noiseBandwidthHz };
}
