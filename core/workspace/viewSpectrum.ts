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
  findStrikes,
  judgeVisit,
} from '../signal/index.ts';
import type { CallResponse } from './contract.ts';
import { roundForTransport } from './roundForTransport.ts';

interface SpectrumRequest {
  readonly strike: number | 'combined' | null;
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
/** Lines of a zoomed spectrum: as many as a wide plot has pixels. */
const ZOOM_LINES = 1201;

/**
 * Computes the spectrum of one strike, of all usable strikes together, or of the whole recording, of each
 * channel, over a range of frequencies.
 */
export function viewSpectrum(
  recording: CalibratedRecording,
  request: SpectrumRequest,
): CallResponse<'recording.spectrum'> {
  const { strike, kind } = request;
  const window = strike === null ? WINDOW_OF_RECORDING : WINDOW_OF_STRIKE;
  const stretches = cutStretches(recording, strike);
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
    strikes: strike === null ? 0 : stretches.length,
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
  { kind, zoom }: SpectrumRequest,
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
  const centred = withoutMean(samples);
  const spectrum =
    zoom === undefined
      ? computeAmplitudeSpectrum(centred, {
          sampleRateHz,
          window,
          minimumResolutionHz: PLOTTED_RESOLUTION_HZ,
        })
      : computeZoomSpectrum(centred, { sampleRateHz, window, lines: ZOOM_LINES, ...zoom });
  const { frequencyHz, amplitude, noiseBandwidthHz } = spectrum;
  return { frequencyHz, values: amplitude, noiseBandwidthHz };
}

/** Stretches of samples that the spectrum is made of, all of one length. */
function cutStretches(
  recording: CalibratedRecording,
  strike: SpectrumRequest['strike'],
): [start: number, end: number][] {
  if (strike === null) return [[0, recording.frames]];
  if (strike === 'combined') {
    const judged = judgeVisit([recording]).recordings[0]!.strikes;
    const usable = judged.filter(({ verdict }) => verdict !== 'repeat').map((judgement) => judgement.strike);
    if (usable.length === 0) {
      throw new InputError(
        'recording.strike',
        `${recording.fileName} has ${judged.length} strikes, and none can be used.`,
        'Look at one strike, or at all of the recording.',
      );
    }
    // Equal lengths, so that lines mean the same; the shortest rings long enough to be usable.
    const length = Math.min(...usable.map(({ startIndex, endIndex }) => endIndex - startIndex));
    return usable.map(({ startIndex }) => [startIndex, startIndex + length]);
  }
  const strikes = findStrikes(
    recording.channels.map((channel) => channel.samplesMPerS2),
    recording.sampleRateHz,
  );
  const chosen = strikes[strike];
  if (!chosen) {
    throw new InputError(
      'recording.strike',
      `${recording.fileName} has ${strikes.length} strikes; strike ${strike} was asked for, counted from 0.`,
      'Choose one of the strikes of this recording, or all of it.',
    );
  }
  return [[chosen.startIndex, chosen.endIndex]];
}

function withoutMean(samples: Float64Array): Float64Array {
  const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
  return samples.map((value) => value - mean);
}
