import { InputError } from '../errors.ts';
import type { CalibratedRecording } from '../recording/index.ts';
import {
  buildWindow,
  computeAmplitudeSpectrum,
  computeNoiseBandwidthBins,
  computePsd,
  findStrikes,
} from '../signal/index.ts';
import type { CallResponse } from './contract.ts';
import { roundForTransport } from './roundForTransport.ts';

type SpectrumRequest = { strike: number | null; kind: 'amplitude' | 'psd'; maximumHz: number };

/**
 * A blow stands at the start of its ring-down, where a window that opens slowly would hide it; the ring-down has
 * sunk into the noise at its end, so nothing leaks there.
 */
const WINDOW_OF_STRIKE = 'rectangular';
const WINDOW_OF_RECORDING = 'hann';
/** Bins this close draw smooth peaks up to the third mode of a pole. */
const PLOTTED_RESOLUTION_HZ = 0.02;
/** Welch segments of this length resolve a quarter of a hertz: first modes of poles lie above one. */
const PSD_SEGMENT_S = 8;

/** Computes the spectrum of one strike, or of the whole recording, of each channel, up to a frequency. */
export function viewSpectrum(
  recording: CalibratedRecording,
  { strike, kind, maximumHz }: SpectrumRequest,
): CallResponse<'recording.spectrum'> {
  const { sampleRateHz } = recording;
  const window = strike === null ? WINDOW_OF_RECORDING : WINDOW_OF_STRIKE;
  const [start, end] = strike === null ? [0, recording.frames] : cutStrike(recording, strike);
  const segmentLength = Math.min(end - start, Math.round(PSD_SEGMENT_S * sampleRateHz));
  const spectra = recording.channels.map(({ samplesMPerS2 }) => {
    const samples = samplesMPerS2.subarray(start, end);
    if (kind === 'psd') {
      const psd = computePsd(samples, { sampleRateHz, window, segmentLength });
      return { frequencyHz: psd.frequencyHz, values: psd.density };
    }
    const spectrum = computeAmplitudeSpectrum(withoutMean(samples), {
      sampleRateHz,
      window,
      minimumResolutionHz: PLOTTED_RESOLUTION_HZ,
    });
    return { frequencyHz: spectrum.frequencyHz, values: spectrum.amplitude };
  });
  const windowLength = kind === 'psd' ? segmentLength : end - start;
  const frequencyHz = spectra[0]!.frequencyHz;
  const shown = frequencyHz.findLastIndex((value) => value <= maximumHz) + 1;
  return {
    unit: kind === 'psd' ? '(m/s2)2/Hz' : 'm/s2',
    window,
    noiseBandwidthHz: roundForTransport(
      (computeNoiseBandwidthBins(buildWindow(window, windowLength)) * sampleRateHz) / windowLength,
    ),
    frequenciesHz: Array.from(frequencyHz.subarray(0, shown), roundForTransport),
    channels: spectra.map(({ values }, i) => ({
      azimuthDeg: recording.channels[i]!.azimuthDeg,
      values: Array.from(values.subarray(0, shown), roundForTransport),
    })),
  };
}

function cutStrike(recording: CalibratedRecording, index: number): [number, number] {
  const strikes = findStrikes(
    recording.channels.map((channel) => channel.samplesMPerS2),
    recording.sampleRateHz,
  );
  const strike = strikes[index];
  if (!strike) {
    throw new InputError(
      'recording.strike',
      `${recording.fileName} has ${strikes.length} strikes; strike ${index} was asked for, counted from 0.`,
      'Choose one of the strikes of this recording, or all of it.',
    );
  }
  return [strike.startIndex, strike.endIndex];
}

function withoutMean(samples: Float64Array): Float64Array {
  const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
  return samples.map((value) => value - mean);
}
