import { InputError } from '../errors.ts';
import type { Recording, RecordingWarning } from './recording.ts';
import type { RecordingEntry } from './visitFile.ts';

/** One channel in m/s2 with what the visit says of it. */
interface CalibratedChannel {
  /** Channel of the file, from 0. */
  readonly index: number;
  readonly samplesMPerS2: Float64Array;
  /** Where the file was sampled faster than it is kept: see `Recording.extremes`. */
  readonly extremesMPerS2?: Float32Array;
  /** Acceleration at digital full scale; null where the file was in m/s2 and the visit does not say. */
  readonly fullScaleMPerS2: number | null;
  readonly azimuthDeg: number;
  /** Height above ground line; null where the height of the sensor in the visit applies. */
  readonly heightM: number | null;
  /** High-pass corner of sensor and recorder, -3 dB; null where unknown. */
  readonly cornerHz: number | null;
}

/** The channels of a recording that the visit names, in its order, in m/s2. */
export interface CalibratedRecording {
  readonly fileName: string;
  readonly sampleRateHz: number;
  readonly frames: number;
  readonly exciter: RecordingEntry['exciter'];
  /** Time constant of an exponential window over the recording; left out where there is none. */
  readonly exponentialWindowS?: number;
  readonly channels: readonly CalibratedChannel[];
  readonly warnings: readonly RecordingWarning[];
}

/**
 * Picks the channels that a visit names out of a recording and brings them to m/s2. Floating-point files
 * without a full scale in the visit are taken as m/s2 already, with a warning.
 * @param entry - the visit's entry for this file
 * @param fileName - named in errors
 * @throws InputError `recording.channel` for a channel that is not in the file or named twice,
 *   `recording.full-scale` where the file needs a full scale and the visit gives none
 */
export function calibrateChannels(
  recording: Recording,
  entry: RecordingEntry,
  fileName: string,
): CalibratedRecording {
  const warnings: RecordingWarning[] = [...recording.warnings];
  const seen = new Set<number>();
  const channels = entry.channels.map((channel, i): CalibratedChannel => {
    const field = `recordings.channels[${i}]`;
    const samples = recording.channels[channel.index];
    if (samples === undefined || seen.has(channel.index)) {
      throw new InputError(
        'recording.channel',
        `${fileName}, field ${field}.index: channel ${channel.index} ${samples === undefined ? `is not in the file, which has ${recording.channels.length}` : 'is named twice'}.`,
        'Channels count from 0; correct the index in the visit file.',
      );
    }
    seen.add(channel.index);
    const fullScaleMPerS2 = channel.fullScaleMPerS2 ?? null;
    if (recording.unit === 'full scale' && recording.coding !== 'float' && fullScaleMPerS2 === null) {
      throw new InputError(
        'recording.full-scale',
        `${fileName}, field ${field}.fullScaleMPerS2: nothing received; the file holds fractions of full scale, so the acceleration at full scale is needed.`,
        'Take it from the data sheets of sensor and recorder and write it into the visit file, in m/s2.',
      );
    }
    if (recording.unit === 'full scale' && recording.coding === 'float' && fullScaleMPerS2 === null) {
      warnings.push({
        code: 'recording.float-unit',
        message: `Channel ${channel.index} holds floating-point samples and the visit states no full scale; they are taken as m/s2.`,
      });
    }
    const factor = recording.unit === 'full scale' ? (fullScaleMPerS2 ?? 1) : 1;
    const extremes = recording.extremes?.[channel.index];
    return {
      index: channel.index,
      samplesMPerS2: factor === 1 ? samples : scale(samples, factor, new Float64Array(samples.length)),
      ...(extremes !== undefined && {
        extremesMPerS2: scale(extremes, factor, new Float32Array(extremes.length)),
      }),
      fullScaleMPerS2,
      azimuthDeg: channel.azimuthDeg,
      heightM: channel.heightM ?? null,
      cornerHz: channel.cornerHz ?? null,
    };
  });
  return {
    fileName,
    sampleRateHz: recording.sampleRateHz,
    frames: recording.frames,
    exciter: entry.exciter,
    ...(entry.exponentialWindowS != null && { exponentialWindowS: entry.exponentialWindowS }),
    channels,
    warnings,
  };
}

/** A loop, where map calls a function for each of millions of samples. @returns `out` */
function scale<T extends Float64Array | Float32Array>(values: T, factor: number, out: T): T {
  for (let i = 0; i < values.length; i++) out[i] = values[i]! * factor;
  return out;
}
