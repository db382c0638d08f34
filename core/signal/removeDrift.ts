import { checkSamples } from './checkSamples.ts';

/** Drift is what moves below this; mode 1 of the slowest standing poles lies at four times as much (ours). */
const DRIFT_BELOW_HZ = 0.3;

/**
 * Removes offset and drift: the best straight line, then the part that cosines below 0.3 Hz explain (half
 * periods over the length of the record, orthogonal; discrete cosine transform II). Nothing above is filtered,
 * so no corner turns the phase of mode 1: the frequency of a decay of 1 Hz moves by less than 0.02 % and its
 * damping ratio by less than 2 % of itself in 10 s of record, from 8 s on (tested; docs/signal.md).
 * @param samples - 2 or more finite values
 * @returns a new array, of mean 0
 * @throws InputError `signal.samples`, `signal.rate`
 */
export function removeDrift(samples: Float64Array, sampleRateHz: number): Float64Array {
  checkSamples(samples, sampleRateHz, 2);
  const count = samples.length;
  const out = removeLine(samples);
  const cosines = Math.min(count - 1, Math.floor((2 * DRIFT_BELOW_HZ * count) / sampleRateHz));
  for (let k = 1; k <= cosines; k++) {
    const turn = (Math.PI * k) / count;
    let share = 0;
    for (let i = 0; i < count; i++) share += out[i]! * Math.cos(turn * (i + 0.5));
    share *= 2 / count;
    for (let i = 0; i < count; i++) out[i] = out[i]! - share * Math.cos(turn * (i + 0.5));
  }
  return out;
}

function removeLine(samples: Float64Array): Float64Array {
  const count = samples.length;
  const middle = (count - 1) / 2;
  let sum = 0;
  let moment = 0;
  let spread = 0;
  for (let i = 0; i < count; i++) {
    sum += samples[i]!;
    moment += (i - middle) * samples[i]!;
    spread += (i - middle) ** 2;
  }
  const mean = sum / count;
  const slope = moment / spread;
  return samples.map((value, i) => value - mean - slope * (i - middle));
}
