import { z } from 'zod';
import { numbers, visitId } from './common.ts';

const channelTrace = z.object({
  azimuthDeg: z.number(),
  low: numbers,
  high: numbers,
});

/** Pictures of one recording. */
export const recordingCalls = {
  'recording.waveform': {
    request: z.object({
      visitId,
      recording: z.int().min(0),
      fromS: z.number().min(0).optional(),
      toS: z.number().positive().optional(),
      columns: z.int().min(16).max(8000).default(1600),
    }),
    response: z.object({
      fromS: z.number(),
      toS: z.number(),
      unit: z.literal('m/s2'),
      fullScaleMPerS2: z.number().nullable(),
      timesS: numbers.describe('Middle of each column.'),
      channels: z.array(channelTrace),
    }),
  },
  'recording.spectrum': {
    request: z.object({
      visitId,
      recording: z.int().min(0),
      stretches: z
        .array(z.object({ startS: z.number().min(0), endS: z.number().positive() }))
        .max(50)
        .default([])
        .describe('Strikes to look at: mean power over all of them; none: all of the recording.'),
      turnDeg: z
        .number()
        .min(-90)
        .max(90)
        .default(0)
        .describe('From the axes of the sensor to those along which is looked, in the sense of azimuths.'),
      kind: z
        .enum(['amplitude', 'psd', 'multitaper'])
        .default('amplitude')
        .describe('psd: by Welch, or over a whole strike; multitaper: by sine tapers over the whole length.'),
      maximumHz: z.number().positive().max(24000).default(80),
      zoom: z
        .object({ fromHz: z.number().min(0), toHz: z.number().positive() })
        .optional()
        .describe('Range shown instead of 0 to maximumHz; amplitudes are drawn with many lines over it.'),
    }),
    response: z.object({
      unit: z.enum(['m/s2', '(m/s2)2/Hz']),
      window: z.string(),
      noiseBandwidthHz: z.number(),
      strikes: z.int().describe('Strikes that the spectrum combines; 0 for all of the recording.'),
      frequenciesHz: numbers,
      channels: z.array(z.object({ azimuthDeg: z.number(), values: numbers })),
    }),
  },
  'recording.spectrogram': {
    request: z.object({
      visitId,
      recording: z.int().min(0),
      channel: z.int().min(0),
      maximumHz: z.number().positive().max(24000).default(80),
      frequencyScale: z
        .enum(['linear', 'log'])
        .default('linear')
        .describe('log: lines evenly spaced in the logarithm, from 0.5 Hz on.'),
    }),
    response: z.object({
      unit: z.literal('dB re 1 (m/s2)2/Hz'),
      frequencyScale: z.enum(['linear', 'log']),
      timesS: numbers,
      frequenciesHz: numbers,
      values: z.array(numbers).describe('values[i][j] at frequenciesHz[i], timesS[j].'),
    }),
  },
};
