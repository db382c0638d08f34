import type { CalibratedRecording } from '../recording/index.ts';
import type { CallResponse } from './contract.ts';
import { roundForTransport } from './roundForTransport.ts';

/**
 * Condenses a stretch of a recording to the least and greatest acceleration of each column of a plot, so that
 * no peak is lost however few columns there are.
 * @param fromS - start in s; samples before it are left out
 * @param toS - end in s, cut to the end of the recording
 * @param columns - most columns wanted; a stretch with fewer samples has one column a sample
 */
export function viewWaveform(
  recording: CalibratedRecording,
  { fromS = 0, toS = Number.POSITIVE_INFINITY, columns }: { fromS?: number; toS?: number; columns: number },
): CallResponse<'recording.waveform'> {
  const { sampleRateHz, frames } = recording;
  const first = Math.min(Math.ceil(fromS * sampleRateHz), frames - 1);
  const end = Math.max(first + 1, Math.min(Math.ceil(toS * sampleRateHz), frames));
  const count = Math.min(columns, end - first);
  const edges = Array.from({ length: count + 1 }, (_, i) => first + Math.floor((i * (end - first)) / count));
  const fullScales = recording.channels.map((channel) => channel.fullScaleMPerS2);
  return {
    fromS: roundForTransport(first / sampleRateHz),
    toS: roundForTransport(end / sampleRateHz),
    unit: 'm/s2',
    fullScaleMPerS2: fullScales.some((value) => value === null)
      ? null
      : Math.min(...(fullScales as number[])),
    timesS: Array.from({ length: count }, (_, i) =>
      roundForTransport((edges[i]! + edges[i + 1]! - 1) / 2 / sampleRateHz),
    ),
    channels: recording.channels.map((channel) => ({
      azimuthDeg: channel.azimuthDeg,
      ...envelope(channel.samplesMPerS2, edges),
    })),
  };
}

function envelope(samples: Float64Array, edges: readonly number[]): { low: number[]; high: number[] } {
  const low: number[] = [];
  const high: number[] = [];
  for (let column = 0; column + 1 < edges.length; column++) {
    let least = Number.POSITIVE_INFINITY;
    let greatest = Number.NEGATIVE_INFINITY;
    for (let i = edges[column]!; i < edges[column + 1]!; i++) {
      const value = samples[i]!;
      if (value < least) least = value;
      if (value > greatest) greatest = value;
    }
    low.push(roundForTransport(least));
    high.push(roundForTransport(greatest));
  }
  return { low, high };
}
