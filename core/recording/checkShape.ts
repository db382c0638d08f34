import { FormatError } from '../errors.ts';
import { RECORDING_LIMITS } from './recording.ts';

/**
 * Holds the announced shape of a recording against the limits before any sample is decoded.
 * @throws FormatError `recording.channels`, `recording.rate`, `recording.empty`, `recording.length`
 */
export function checkShape(
  fileName: string,
  channelCount: number,
  sampleRateHz: number,
  frames: number,
): void {
  const limits = RECORDING_LIMITS;
  if (channelCount < 1 || channelCount > limits.channels) {
    throw new FormatError(
      'recording.channels',
      `${fileName}: number of channels is ${channelCount}; 1 to ${limits.channels} are expected.`,
      'Export only the channels of the accelerometers.',
    );
  }
  if (!(sampleRateHz >= limits.lowestSampleRateHz && sampleRateHz <= limits.highestSampleRateHz)) {
    throw new FormatError(
      'recording.rate',
      `${fileName}: sample rate is ${sampleRateHz} Hz; ${limits.lowestSampleRateHz} to ${limits.highestSampleRateHz} Hz are expected.`,
      'Check the sample rate set in the recorder, or the unit of the time column.',
    );
  }
  if (frames < limits.fewestFrames) {
    throw new FormatError(
      'recording.empty',
      `${fileName}: holds ${frames} samples a channel; at least ${limits.fewestFrames} are expected.`,
      'The recorder was stopped before anything was written; use another copy or record again.',
    );
  }
  if (frames / sampleRateHz > limits.longestS || frames * channelCount > limits.samples) {
    throw new FormatError(
      'recording.length',
      `${fileName}: ${(frames / sampleRateHz).toFixed(0)} s of ${channelCount} channels (${frames * channelCount} samples); at most ${limits.longestS} s and ${limits.samples} samples are read.`,
      'Cut the file into shorter ones around the strikes.',
    );
  }
}
