import { giveBackMemory } from '../giveBackMemory.ts';
import { type CalibratedRecording, calibrateChannels } from './calibrateChannels.ts';
import { readRecording } from './readRecording.ts';
import type { RecordingEntry } from './visitFile.ts';

/**
 * Reads the channels of a recording that a visit names, in m/s2.
 * @param bytes - the whole file
 * @param entry - the visit's entry for it
 * @param fileName - named in errors
 * @throws FormatError, InputError of {@link readRecording} and {@link calibrateChannels}
 */
export function readCalibrated(
  bytes: Uint8Array,
  entry: RecordingEntry,
  fileName: string,
): CalibratedRecording {
  const recording = readRecording(bytes, fileName);
  const calibrated = calibrateChannels(recording, entry, fileName);
  const kept = calibrated.channels.map(({ samplesMPerS2 }) => samplesMPerS2);
  for (const samples of recording.channels) if (!kept.includes(samples)) giveBackMemory(samples);
  return calibrated;
}
