/** Something about a file that was mended or passed over while reading it, and that a person should know. */
export interface RecordingWarning {
  readonly code: string;
  readonly message: string;
}

/** One file from the sensor, read: every channel in full, every sample finite. */
export interface Recording {
  readonly sampleRateHz: number;
  /** One array a channel, each `frames` long. */
  readonly channels: readonly Float64Array[];
  /** `full scale`: samples are fractions of digital full scale; `m/s2`: samples are accelerations. */
  readonly unit: 'full scale' | 'm/s2';
  readonly frames: number;
  /** How the file holds its samples: integers are always fractions of full scale, floats may be either. */
  readonly coding: 'integer' | 'float' | 'text';
  readonly warnings: readonly RecordingWarning[];
  /**
   * Present where the file was sampled faster than it is kept here: of the samples that each one stands for,
   * the one of largest magnitude, so that clipping is not hidden by the anti-alias filter.
   */
  readonly extremes?: readonly Float32Array[];
}

/**
 * Recorders for sound sample far faster than a pole moves. From this rate on samples are lowered to 4 kHz or a
 * little more while they are read, so that ten minutes of eight channels fit in memory (ours: no check looks
 * above 1 kHz, and half the new rate leaves the anti-alias filter room beyond that).
 */
export const LOWERED_RATE = { fromHz: 16_000, keptHz: 4000 } as const;

/** What a recording may hold. All are ours: wide for field work, narrow enough to keep memory in bounds. */
export const RECORDING_LIMITS = {
  largestFileBytes: 1024 ** 3,
  /** Text takes some fifteen times its size in memory while it is read. */
  largestCsvBytes: 128 * 1024 ** 2,
  channels: 64,
  longestS: 1800,
  /** All channels together, as recorded. */
  samples: 250_000_000,
  fewestFrames: 16,
  lowestSampleRateHz: 20,
  highestSampleRateHz: 1_000_000,
  /** No accelerometer or recorder gives more, in either unit; squares of larger values would overflow. */
  largestValue: 1e9,
} as const;
