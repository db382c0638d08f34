const MAINS_HZ = [50, 60] as const;
/** Slower recordings hold too few samples a period to take one off. */
const LOWEST_RATE_HZ = 500;
/** Hum counts where taking it off leaves this share of the energy that a delay off its period leaves. */
const HUM_SHARE = 1 / 8;
/** Half a period more: hum doubles under this delay, slow movement and noise fare as under the whole period. */
const CONTROL_PERIODS = 1.5;
/** The quieter part of a recording, in which no blow rings. */
const QUIET_QUANTILE = 0.1;

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
    const without = subtractDelayed(samples, period);
    const control = subtractDelayed(samples, CONTROL_PERIODS * period);
    if (readQuiet(without, period) < HUM_SHARE * readQuiet(control, period)) return without;
  }
  return samples;
}

/** Less the value `delay` samples earlier, read straight between samples; the first ones are left at zero. */
function subtractDelayed(samples: Float64Array, delay: number): Float64Array {
  const out = new Float64Array(samples.length);
  for (let i = Math.ceil(delay); i < samples.length; i++) {
    const at = i - delay;
    const before = Math.floor(at);
    const share = at - before;
    const earlier =
      share === 0 ? samples[before]! : (1 - share) * samples[before]! + share * samples[before + 1]!;
    out[i] = samples[i]! - earlier;
  }
  return out;
}

/** Low quantile of the mean squares of stretches of one period each, past the start that has no earlier value. */
function readQuiet(samples: Float64Array, period: number): number {
  const length = Math.round(period);
  const skip = Math.ceil(CONTROL_PERIODS * period);
  const means: number[] = [];
  for (let from = skip; from + length <= samples.length; from += length) {
    let squares = 0;
    for (let i = from; i < from + length; i++) squares += samples[i]! ** 2;
    means.push(squares / length);
  }
  return means.sort((a, b) => a - b)[Math.floor(QUIET_QUANTILE * (means.length - 1))] ?? 0;
}
