import { InputError } from '../errors.ts';
import type { CalibratedRecording } from '../recording/index.ts';
import { computeSpectrogram } from '../signal/index.ts';
import type { CallResponse } from './contract.ts';
import { roundForTransport } from './roundForTransport.ts';

/** Long enough to part the modes of a pole (1 Hz), short enough to see them decay. */
const SEGMENT_S = 2;
/** Neighbours share this much, so that a blow is placed to a quarter of a second or better. */
const OVERLAP = 7 / 8;
const MOST_COLUMNS = 600;
/** Weaker than any sensor's own noise; stands for silence. */
const FLOOR_DENSITY = 1e-20;

/** Computes the spectrogram of one channel in decibels, up to a frequency. */
export function viewSpectrogram(
  recording: CalibratedRecording,
  { channel, maximumHz }: { channel: number; maximumHz: number },
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
  const segmentLength = Math.min(frames, 2 ** Math.round(Math.log2(SEGMENT_S * sampleRateHz)));
  const hop = Math.max(Math.ceil(frames / MOST_COLUMNS), Math.round(segmentLength * (1 - OVERLAP)));
  const { timeS, frequencyHz, density } = computeSpectrogram(chosen.samplesMPerS2, {
    sampleRateHz,
    segmentLength,
    overlap: Math.max(0, segmentLength - hop),
  });
  const shown = frequencyHz.findLastIndex((value) => value <= maximumHz) + 1;
  return {
    unit: 'dB re 1 (m/s2)2/Hz',
    timesS: Array.from(timeS, roundForTransport),
    frequenciesHz: Array.from(frequencyHz.subarray(0, shown), roundForTransport),
    values: Array.from({ length: shown }, (_, bin) =>
      Array.from(timeS, (_time, column) => toDecibels(density[column * frequencyHz.length + bin]!)),
    ),
  };
}

function toDecibels(density: number): number {
  return roundForTransport(10 * Math.log10(Math.max(density, FLOOR_DENSITY)));
}
