const MAINS_HZ = [50, 60] as const;
/** Slower recordings hold too few samples a period to take one off. */
const LOWEST_RATE_HZ = 500;
/** Hum counts where taking it off leaves this share of the energy that a delay off its period leaves. */
const HUM_SHARE = 1 / 8;
/** Half a period more: hum doubles under this delay, slow movement and noise fare as under the whole period. */
const CONTROL_PERIODS = 1.5;
/** The quieter part of a recording, in which no blow rings. */
const QUIET_QUANTILE = 0.1;
/** Stretches looked at: of steady hum so many say what all would. */
const MOST_STRETCHES = 250;
/** They follow each other by the golden section of the recording, so that they keep no step with what comes and goes. */
const GOLDEN_SECTION = (Math.sqrt(5) - 1) / 2;

/**
 * Takes hum of the mains off for the search of blows, where it is what fills the quiet part: from each sample the
 * one a period of 50 or 60 Hz earlier is subtracted, harmonics and all. Nothing of a blow shows before it. Not
 * for spectra: modes are changed too.
 * @returns a new array, or the same samples where there is no such hum or the rate is below 500 Hz
 */
export function subtractHum(samples: Float64Array, rateHz: number): Float64Array {
  if (rateHz < LOWEST_RATE_HZ) return samples;
  for (const mainsHz of MAINS_HZ) {
    const period = rateHz / mainsHz;
    if (samples.length < 4 * period) return samples;
    const without = readQuiet(samples, period, period);
    const control = readQuiet(samples, period, CONTROL_PERIODS * period);
    if (without < HUM_SHARE * control) return subtractDelayed(samples, period);
  }
  return samples;
}

/** Less the value `delay` samples earlier; the first ones are left at zero. */
function subtractDelayed(samples: Float64Array, delay: number): Float64Array {
  const out = new Float64Array(samples.length);
  fillDifferences(samples, delay, Math.ceil(delay), out.subarray(Math.ceil(delay)));
  return out;
}

/** From `from` on, each sample less the value `delay` samples earlier, read straight between samples. */
function fillDifferences(samples: Float64Array, delay: number, from: number, into: Float64Array): void {
  const first = Math.floor(from - delay);
  const share = from - delay - first;
  for (let i = 0; i < into.length; i++) {
    const earlier = samples[first + i]!;
    into[i] = samples[from + i]! - (earlier + share * (samples[first + i + 1]! - earlier));
  }
}

/**
 * Low quantile of the mean squares of stretches of one period each, less what was there `delay` samples earlier,
 * past the start that has no earlier value.
 */
function readQuiet(samples: Float64Array, period: number, delay: number): number {
  const length = Math.round(period);
  const skip = Math.ceil(CONTROL_PERIODS * period);
  const differences = new Float64Array(length);
  const stretches = Math.max(0, Math.floor((samples.length - skip) / length));
  const means = new Float64Array(Math.min(stretches, MOST_STRETCHES));
  for (let stretch = 0; stretch < means.length; stretch++) {
    const at =
      stretches > MOST_STRETCHES ? Math.floor(((stretch * GOLDEN_SECTION) % 1) * stretches) : stretch;
    fillDifferences(samples, delay, skip + at * length, differences);
    let squares = 0;
    for (let i = 0; i < length; i++) squares += differences[i]! * differences[i]!;
    means[stretch] = squares / length;
  }
  return means.sort()[Math.floor(QUIET_QUANTILE * (means.length - 1))] ?? 0;
}
