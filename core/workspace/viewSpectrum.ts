import { InputError } from '../errors.ts';
import type { CalibratedRecording } from '../recording/index.ts';
import {
  buildWindow,
  combineSpectra,
  computeAmplitudeSpectrum,
  computeMultitaperPsd,
  computeNoiseBandwidthBins,
  computePsd,
  computeZoomSpectrum,
  removeDrift,
} from '../signal/index.ts';
import type { CallResponse } from './contract.ts';
import { roundForTransport } from './roundForTransport.ts';
import { turnRecording } from './turnRecording.ts';

interface SpectrumRequest {
  /** Strikes, whose mean power is shown; none: all of the recording. */
  readonly stretches: readonly { readonly startS: number; readonly endS: number }[];
  readonly turnDeg?: number | undefined;
  readonly kind: 'amplitude' | 'psd' | 'multitaper';
  readonly maximumHz: number;
  readonly zoom?: { readonly fromHz: number; readonly toHz: number } | undefined;
}

interface Curve {
  readonly frequencyHz: Float64Array;
  readonly values: Float64Array;
  readonly noiseBandwidthHz: number;
}

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
/** Fewer samples than these make no spectrum. */
const FEWEST_SAMPLES = 16;
/** Lines of a zoomed spectrum: as many as a wide plot has pixels. */
const ZOOM_LINES = 1201;

/** Computes the spectrum of one strike, of several together, or of the whole recording, of each channel, over a range of frequencies. */
export function viewSpectrum(
  given: CalibratedRecording,
  request: SpectrumRequest,
): CallResponse<'recording.spectrum'> {
  const { kind, turnDeg = 0 } = request;
  const recording = turnDeg === 0 ? given : turnRecording(given, turnDeg);
  const isWhole = request.stretches.length === 0;
  const window = isWhole ? WINDOW_OF_RECORDING : WINDOW_OF_STRIKE;
  const stretches = cutStretches(recording, request.stretches);
  const curves = recording.channels.map(({ samplesMPerS2 }): Curve => {
    const spectra = stretches.map(([start, end]) =>
      computeCurve(samplesMPerS2.subarray(start, end), recording.sampleRateHz, window, request),
    );
    const values = combineSpectra(
      spectra.map((spectrum) => spectrum.values),
      kind === 'amplitude' ? 'amplitude' : 'density',
    );
    return { ...spectra[0]!, values };
  });
  const { frequencyHz, noiseBandwidthHz } = curves[0]!;
  const fromHz = request.zoom?.fromHz ?? 0;
  const toHz = request.zoom?.toHz ?? request.maximumHz;
  const first = frequencyHz.findIndex((value) => value >= fromHz);
  const end = frequencyHz.findLastIndex((value) => value <= toHz) + 1;
  const cut = (values: Float64Array) =>
    first < 0 ? [] : Array.from(values.subarray(first, end), roundForTransport);
  return {
    unit: kind === 'amplitude' ? 'm/s2' : '(m/s2)2/Hz',
    window: kind === 'multitaper' ? 'sine tapers' : window,
    noiseBandwidthHz: roundForTransport(noiseBandwidthHz),
    strikes: request.stretches.length,
    frequenciesHz: cut(frequencyHz),
    channels: curves.map(({ values }, i) => ({
      azimuthDeg: recording.channels[i]!.azimuthDeg,
      values: cut(values),
    })),
  };
}

function computeCurve(
  samples: Float64Array,
  sampleRateHz: number,
  window: typeof WINDOW_OF_STRIKE | typeof WINDOW_OF_RECORDING,
  { kind, zoom, maximumHz }: SpectrumRequest,
): Curve {
  if (kind === 'multitaper') {
    const { frequencyHz, density, bandwidthHz } = computeMultitaperPsd(samples, { sampleRateHz });
    return { frequencyHz, values: density, noiseBandwidthHz: bandwidthHz };
  }
  if (kind === 'psd') {
    const segmentLength = Math.min(samples.length, Math.round(PSD_SEGMENT_S * sampleRateHz));
    const { frequencyHz, density } = computePsd(samples, { sampleRateHz, window, segmentLength });
    const bins = computeNoiseBandwidthBins(buildWindow(window, segmentLength));
    return { frequencyHz, values: density, noiseBandwidthHz: (bins * sampleRateHz) / segmentLength };
  }
  // slow drift is a wall at 0 Hz beside which a first mode drowns; of a whole recording it is part of what is shown
  const centred = window === WINDOW_OF_STRIKE ? removeDrift(samples, sampleRateHz) : withoutMean(samples);
  const spectrum =
    zoom === undefined
      ? computeAmplitudeSpectrum(centred, {
          sampleRateHz,
          window,
          minimumResolutionHz: PLOTTED_RESOLUTION_HZ,
          maximumHz,
        })
      : computeZoomSpectrum(centred, { sampleRateHz, window, lines: ZOOM_LINES, ...zoom });
  const { frequencyHz, amplitude, noiseBandwidthHz } = spectrum;
  return { frequencyHz, values: amplitude, noiseBandwidthHz };
}

/** Samples that the spectrum is made of. Several stretches are cut to the shortest of them, so that lines mean the same. */
function cutStretches(
  { fileName, frames, sampleRateHz }: CalibratedRecording,
  stretches: SpectrumRequest['stretches'],
): [start: number, end: number][] {
  if (stretches.length === 0) return [[0, frames]];
  const cut = stretches.map(({ startS, endS }): [number, number] => [
    Math.round(startS * sampleRateHz),
    Math.min(Math.round(endS * sampleRateHz), frames),
  ]);
  const length = Math.min(...cut.map(([start, end]) => end - start));
  if (length < FEWEST_SAMPLES) {
    throw new InputError(
      'recording.stretch',
      `A stretch of ${fileName} from ${stretches.map(({ startS, endS }) => `${startS} to ${endS} s`).join(', ')} was asked for; the recording has ${frames / sampleRateHz} s.`,
      'Choose one of the strikes of this recording, or all of it.',
    );
  }
  return cut.map(([start]) => [start, start + length]);
}

function withoutMean(samples: Float64Array): Float64Array {
  const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
  return samples.map((value) => value - mean);
}
