import { InputError } from '../../errors.ts';
import type { CalibratedRecording } from '../../recording/index.ts';
import { computeAmplitudeSpectrum, decimate, type FaultMark, markFaults } from '../../signal/index.ts';
import type { CallResponse } from '../contract.ts';
import { roundForTransport } from '../roundForTransport.ts';
import { viewSpectrogram } from '../viewSpectrogram.ts';
import { viewWaveform } from '../viewWaveform.ts';
import type { JudgedBlow } from './judgedBlows.ts';

/** So much of the rest before a blow is shown with it. */
const LEAD_S = 0.5;
/** Bins this close draw smooth peaks up to the third mode of a pole. */
const PLOTTED_RESOLUTION_HZ = 0.02;
/** No plot has more pixels than this over half of a window. */
const MOST_LINES = 2000;
/** Segments of the spectrogram: one parts the modes of a pole, the other moments of a blow. */
const SEGMENTS_S = { frequency: 1, time: 0.2 } as const;
/** Rattle reaches this far; modes lie far below. */
const SOUND_RATE_HZ = 2000;
const SOUND_LEAD_S = 0.02;

type Blow = Pick<JudgedBlow, 'strike'>;

/** Least and greatest acceleration over a stretch of a blow. @param view - times from the onset */
export function viewBlowWaveform(
  recording: CalibratedRecording,
  { strike }: Blow,
  view: { fromS?: number | undefined; toS?: number | undefined; columns: number },
): CallResponse<'classroom.waveform'> {
  const earliestS = Math.max(-LEAD_S, -strike.startS);
  const latestS = strike.endS - strike.startS;
  const fromS = Math.min(Math.max(view.fromS ?? earliestS, earliestS), latestS);
  const toS = Math.min(Math.max(view.toS ?? latestS, fromS), latestS);
  const { timesS, fullScaleMPerS2, channels } = viewWaveform(recording, {
    fromS: strike.startS + fromS,
    toS: strike.startS + toS,
    columns: view.columns,
  });
  return {
    timesS: timesS.map((timeS) => roundForTransport(timeS - strike.startS)),
    fullScaleMPerS2,
    channels,
  };
}

/** Amplitude spectrum of a blow's ring-down, as on the bench. */
export function viewBlowSpectrum(
  recording: CalibratedRecording,
  { strike }: Blow,
  maximumHz: number,
): CallResponse<'classroom.spectrum'> {
  const spectra = recording.channels.map(({ samplesMPerS2, azimuthDeg }) => {
    const samples = samplesMPerS2.subarray(strike.startIndex, strike.endIndex);
    const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
    const spectrum = computeAmplitudeSpectrum(
      samples.map((value) => value - mean),
      {
        sampleRateHz: recording.sampleRateHz,
        window: 'rectangular',
        minimumResolutionHz: PLOTTED_RESOLUTION_HZ,
      },
    );
    return { azimuthDeg, ...spectrum };
  });
  const { frequencyHz } = spectra[0]!;
  const end = frequencyHz.findLastIndex((value) => value <= maximumHz) + 1;
  const step = Math.max(1, Math.ceil(end / MOST_LINES));
  const lines = Array.from({ length: Math.ceil(end / step) }, (_, i) => i * step);
  return {
    frequenciesHz: lines.map((line) => roundForTransport(frequencyHz[line]!)),
    channels: spectra.map(({ azimuthDeg, amplitude }) => ({
      azimuthDeg,
      // a peak between two lines that are drawn is drawn at the first of them
      values: lines.map((line) => roundForTransport(Math.max(...amplitude.subarray(line, line + step)))),
    })),
  };
}

/** Spectrogram of one channel of a blow. */
export function viewBlowSpectrogram(
  recording: CalibratedRecording,
  { strike }: Blow,
  view: { channel: number; maximumHz: number; sharpIn: keyof typeof SEGMENTS_S },
): CallResponse<'classroom.spectrogram'> {
  const { sampleRateHz } = recording;
  const segmentS = SEGMENTS_S[view.sharpIn];
  // a segment stands for its middle, so the first begins half of its length before what is shown
  const start = Math.max(0, strike.startIndex - Math.round((LEAD_S + segmentS / 2) * sampleRateHz));
  const cut: CalibratedRecording = {
    ...recording,
    frames: strike.endIndex - start,
    channels: recording.channels.map((channel) => ({
      ...channel,
      samplesMPerS2: channel.samplesMPerS2.subarray(start, strike.endIndex),
    })),
  };
  const { timesS, frequenciesHz, values } = viewSpectrogram(cut, {
    channel: view.channel,
    maximumHz: view.maximumHz,
    segmentS,
  });
  const leadS = (strike.startIndex - start) / sampleRateHz;
  return { timesS: timesS.map((timeS) => roundForTransport(timeS - leadS)), frequenciesHz, values };
}

/** Samples of a blow for the ear. @throws InputError `classroom.channel` */
export function readBlowSound(
  { sampleRateHz, channels, fileName }: CalibratedRecording,
  { strike }: Blow,
  channel: number,
): CallResponse<'classroom.sound'> {
  const chosen = channels[channel];
  if (!chosen) {
    throw new InputError(
      'classroom.channel',
      `${fileName} has ${channels.length} channels in this visit; channel ${channel} was asked for, counted from 0.`,
      'Choose one of the channels that the visit file names.',
    );
  }
  const factor = Math.max(1, Math.floor(sampleRateHz / SOUND_RATE_HZ));
  const start = Math.max(0, strike.startIndex - Math.round(SOUND_LEAD_S * sampleRateHz));
  const samples = decimate(chosen.samplesMPerS2.subarray(start, strike.endIndex), factor);
  return {
    sampleRateHz: sampleRateHz / factor,
    samplesMPerS2: Array.from(samples, roundForTransport),
  };
}

/** Where the faults of a blow show, in times from its onset. */
export function markBlow(recording: CalibratedRecording, judged: JudgedBlow): FaultMark[] {
  const { startS } = judged.strike;
  return markFaults(recording, judged.strike, judged.checks).map((mark) => ({
    ...mark,
    timeS: mark.timeS && [
      roundForTransport(mark.timeS[0] - startS),
      roundForTransport(mark.timeS[1] - startS),
    ],
  }));
}
