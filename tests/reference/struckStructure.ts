import { readFileSync } from 'node:fs';
import type { StrikeSegment } from '../../core/modal/index.ts';
import { readRecording } from '../../core/recording/index.ts';
import { findStrikes } from '../../core/signal/index.ts';

/** Natural frequency that the data's authors fitted, and the window of their fit; see data/struck-structure/SOURCE.txt. */
export const PUBLISHED_HZ = 212.092530551;
export const WINDOW_HZ = [156.25, 312.2] as const;

/** Samples behind the onset in which the hammer is still on the structure. */
const CONTACT_SAMPLES = 20;

/** The ring-down of the measured struck structure, read and cut by the program's own rooms. */
export function cutStruckStructure(): StrikeSegment {
  const bytes = readFileSync(new URL('./data/struck-structure/case1-time.csv', import.meta.url));
  const recording = readRecording(bytes, 'case1-time.csv');
  const response = recording.channels[1]!;
  const [strike, ...others] = findStrikes([response], recording.sampleRateHz);
  if (!strike || others.length > 0) throw new Error('The record holds one strike; another number was found.');
  return {
    recording: 'case1-time.csv',
    strikeIndex: 0,
    sampleRateHz: recording.sampleRateHz,
    channels: [response.slice(strike.startIndex + CONTACT_SAMPLES, strike.endIndex)],
    azimuthsDeg: [0],
    noiseRms: [strike.noiseRms[0]!],
    cornerHz: null,
    exciter: 'hammer',
  };
}
