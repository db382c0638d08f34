import { hashSha256 } from '../../hashSha256.ts';
import { readRecording } from '../../recording/index.ts';
import type { CallResponse } from '../contract.ts';

export type Attached = CallResponse<'intake.attach'>['attached'];

/**
 * Reads a recording that was attached, and tells what a person must know to say what its channels are.
 * @throws FormatError where it is none
 */
export function describeAttached(bytes: Uint8Array, file: string): Attached {
  const recording = readRecording(bytes, file);
  return {
    file,
    sha256: hashSha256(bytes),
    channels: recording.channels.length,
    needsFullScale: recording.unit === 'full scale' && recording.coding !== 'float',
    sampleRateHz: recording.sampleRateHz,
    durationS: recording.frames / recording.sampleRateHz,
    unit: recording.unit,
    warnings: recording.warnings.map(({ message }) => message),
    peaks: recording.channels.map((samples) => {
      let most = 0;
      for (const value of samples) most = Math.max(most, Math.abs(value));
      return most;
    }),
  };
}
