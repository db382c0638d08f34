import { InputError } from '../errors.ts';
import type { CalibratedRecording } from '../recording/index.ts';
import { computeSpectrogram, spreadLogarithmically } from '../signal/index.ts';
import type { CallResponse } from './contract.ts';
import { roundForTransport } from './roundForTransport.ts';

/** Long enough to part the modes of a pole (1 Hz), short enough to see them decay. */
const SEGMENT_S = 2;
/** Neighbours share this much, so that a blow is placed to a quarter of a second or better. */
const OVERLAP = 7 / 8;
const MOST_COLUMNS = 600;
/** A logarithmic axis starts below the slowest mode 1, and has as many lines as a plot has rows to show. */
const LOG_FROM_HZ = 0.5;
const LOG_LINES = 240;
/** Weaker than any sensor's own noise; stands for silence. */
const FLOOR_DENSITY = 1e-20;

/**
 * Computes the spectrogram of one channel in decibels, up to a frequency, over a linear or logarithmic axis.
 * @param segmentS - length of a segment: long ones part neighbouring modes, short ones neighbouring moments
 */
export function viewSpectrogram(
  recording: CalibratedRecording,
  {
    channel,
    maximumHz,
    frequencyScale = 'linear',
    segmentS = SEGMENT_S,
  }: { channel: number; maximumHz: number; frequencyScale?: 'linear' | 'log'; segmentS?: number },
): CallResponse<'recording.spectrogram'> {
  const chosen = recording.channels[channel];
  if (!chosen) {
    throw new InputError(
      'recording.channel',
      `${recording.fileName} has ${recording.channels.length} channels in this visit; channel ${channel} was asked for, counted from 0.`,
      'Choose one of the channels that the visit file names.',
    );
  }
  const { sampleRateHz, frames } = recording;
  const segmentLength = Math.min(frames, 2 ** Math.round(Math.log2(segmentS * sampleRateHz)));
  const hop = Math.max(Math.ceil(frames / MOST_COLUMNS), Math.round(segmentLength * (1 - OVERLAP)));
  const { timeS, frequencyHz, density } = computeSpectrogram(chosen.samplesMPerS2, {
    sampleRateHz,
    segmentLength,
    overlap: Math.max(0, segmentLength - hop),
    // one bin more than is shown, between which and the last a logarithmic axis may end
    maximumHz: maximumHz + sampleRateHz / segmentLength,
  });
  const rows = frequencyHz.length;
  const { shownHz, columns } =
    frequencyScale === 'log'
      ? spreadColumns(density, frequencyHz, timeS.length, maximumHz)
      : {
          shownHz: frequencyHz.subarray(0, frequencyHz.findLastIndex((value) => value <= maximumHz) + 1),
          columns: Array.from(timeS, (_, t) => density.subarray(t * rows, (t + 1) * rows)),
        };
  return {
    unit: 'dB re 1 (m/s2)2/Hz',
    frequencyScale,
    timesS: Array.from(timeS, roundForTransport),
    frequenciesHz: Array.from(shownHz, roundForTransport),
    values: Array.from(shownHz, (_, row) => columns.map((column) => toDecibels(column[row]!))),
  };
}

function spreadColumns(density: Float64Array, frequencyHz: Float64Array, count: number, maximumHz: number) {
  const rows = frequencyHz.length;
  const toHz = Math.min(maximumHz, frequencyHz[rows - 1]!);
  const axis = spreadLogarithmically(frequencyHz[1]!, Math.min(LOG_FROM_HZ, toHz / 2), toHz, LOG_LINES);
  const columns = Array.from({ length: count }, (_, t) =>
    axis.resample(density.subarray(t * rows, (t + 1) * rows)),
  );
  return { shownHz: axis.frequencyHz, columns };
}

/** To a tenth of a decibel: no colour tells less apart. */
function toDecibels(density: number): number {
  return Math.round(100 * Math.log10(Math.max(density, FLOOR_DENSITY))) / 10;
}
