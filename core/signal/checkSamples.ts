import { InputError } from '../errors.ts';

/**
 * Asserts what every computation on samples relies on.
 * @throws InputError `signal.samples` for too few samples or one that is not finite, `signal.rate` for a
 *   rate that is not above zero
 */
export function checkSamples(samples: Float64Array, sampleRateHz: number, fewest: number): void {
  if (!(sampleRateHz > 0 && Number.isFinite(sampleRateHz))) {
    throw new InputError(
      'signal.rate',
      `Sample rate is ${sampleRateHz} Hz; a number above zero is expected.`,
      'Give the rate of the recording.',
    );
  }
  if (samples.length < fewest) {
    throw new InputError(
      'signal.samples',
      `${samples.length} samples; at least ${fewest} are expected.`,
      'Take a longer stretch of the recording.',
    );
  }
  for (let i = 0; i < samples.length; i++) {
    if (Number.isFinite(samples[i]!)) continue;
    throw new InputError(
      'signal.samples',
      `Sample ${i} is ${samples[i]}; a finite number is expected.`,
      'Read the recording through readRecording, which refuses such samples.',
    );
  }
}
