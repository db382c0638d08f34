import { averageBlocks } from './averageBlocks.ts';
import { pickOnset } from './pickOnset.ts';
import { pickRise } from './pickRise.ts';
import { measureRms } from './ringDown.ts';
import { subtractHum } from './subtractHum.ts';
import { takeQuantile } from './takeQuantile.ts';

/** Detection works at 1 to 2 kHz: blows and modes lie well below, and noise above is shed. */
const DETECTION_RATE_HZ = 1000;
/** Short mean ahead of a sample: sheds noise, keeps the rise of the softest blow. */
const AHEAD_S = 0.004;
/**
 * Mean behind a sample, taken off: removes offset, drift and most of mode 1, which rings on under the next
 * blow.
 */
const BEHIND_S = 0.1;
const SHORT_S = 0.02;
const LONG_S = 1;
/** Less history than this says nothing of the level before a blow. */
const SHORTEST_LONG_S = 0.05;
/**
 * Short-term over long-term mean energy that makes an onset. Steady noise stays below 3, the beats of a
 * ring-down below 4; a blow 10 dB over noise gives 11 (ours; seismic practice uses 3 to 10).
 */
const ONSET_RATIO = 6;
/** Share of the lowest short-term energies that is taken as the quiet level. */
const QUIET_QUANTILE = 0.1;
/**
 * Short-term energies of noise are chi-square distributed with some five degrees; their lowest tenth lies
 * below the mean by this factor.
 */
const QUIET_TO_MEAN = 3;
/** An onset outgrows every short-term energy of the time before it; the swings of a ring-down do not. */
const BEFORE_S = 0.5;
const OUTGROWN = 1.5;
/** A blow has reached its full energy within this time, by hand too. */
const RISE_S = 0.08;
/** What is followed by 25 times its energy (5 times its amplitude) is a touch before the blow. */
const TOUCH_RATIO = 25;
/** A recording that begins with this share of the energy of its first blow began within it. */
const STARTED_SHARE = 0.1;
/**
 * Below this peak over noise (30 dB, at the detection rate) variances alone place an onset late: a blow by hand rises
 * out of such noise only after some milliseconds.
 */
const PLAIN_PEAK = 10 ** 1.5;
/** Stretches over which the variance of the noise is read. */
const QUIET_S = 0.1;
/** Placed at the detection rate, an onset is known to a few of its steps. */
const REFINE_STEPS = 4;

export interface Onset {
  readonly index: number;
  /**
   * Largest short-term energy after the onset, in units of the quiet level; ranks onsets of one recording.
   */
  readonly strength: number;
}

/**
 * Finds where blows set in, over all channels together, by short-term over long-term mean energy (Allen 1978,
 * Bull. Seismol. Soc. Am. 68(5):1521-1532), and places each by Akaike's criterion (see `pickOnset.ts`).
 * @param channels - one or more, equally long, finite
 * @param deadTimeS - what sets in within this time after an onset belongs to it
 */
export function findOnsets(
  channels: readonly Float64Array[],
  sampleRateHz: number,
  deadTimeS: number,
): Onset[] {
  const factor = Math.max(1, Math.floor(sampleRateHz / DETECTION_RATE_HZ));
  const rateHz = sampleRateHz / factor;
  const slow = channels.map((samples) => subtractHum(averageBlocks(samples, factor), rateHz));
  const energy = new Float64Array(slow[0]!.length);
  for (const samples of slow) addDetectionEnergy(samples, rateHz, energy);
  const width = Math.max(2, Math.round(SHORT_S * rateHz));
  const ahead = averageAhead(energy, width);
  if (ahead.length === 0) return [];
  const quiet = Math.max(takeQuantile(ahead, QUIET_QUANTILE) * QUIET_TO_MEAN, Number.MIN_VALUE);
  const behind = averageBehind(energy, rateHz, quiet);
  const before = Math.round(BEFORE_S * rateHz);
  const isOnset = (i: number) =>
    ahead[i]! >= ONSET_RATIO * behind[i]! && ahead[i]! > OUTGROWN * findLargest(ahead, i - before, i - width);
  const noise = slow.map((samples) => readQuietVariance(samples, Math.round(QUIET_S * rateHz)));
  const rise = Math.round(RISE_S * rateHz);
  const dead = Math.round(deadTimeS * rateHz);

  const onsets: Onset[] = [];
  let i = 0;
  while (i < ahead.length) {
    if (!isOnset(i)) {
      i++;
      continue;
    }
    const strength = findLargest(ahead, i, i + rise);
    const stronger = findAbove(ahead, i, i + dead, TOUCH_RATIO * strength);
    if (stronger !== null) {
      // The short window shows the blow ahead of it; its start is where it first outgrows the touch.
      i = Math.max(i + 1, findAbove(ahead, i, stronger + 1, ONSET_RATIO * strength)!);
      continue;
    }
    const coarse = startsInBlow(energy, i, rateHz, strength)
      ? 0
      : pickOnset(slow, Math.max(0, i - 3 * width), Math.min(energy.length, i + 2 * width));
    const index =
      coarse === 0
        ? 0
        : standsOut(slow, noise, coarse, coarse + rise)
          ? refine(channels, coarse, factor)
          : factor * pickRise(slow, rateHz, noise, coarse);
    onsets.push({ index, strength: strength / quiet });
    i += dead;
  }
  return onsets;
}

/** True where the recording was triggered by the blow and its first milliseconds are part of it already. */
function startsInBlow(energy: Float64Array, at: number, rateHz: number, strength: number): boolean {
  const ahead = Math.max(1, Math.round(AHEAD_S * rateHz));
  return at === 0 && averageAhead(energy.subarray(0, ahead + 1), ahead)[0]! > STARTED_SHARE * strength;
}

/**
 * Adds the energy of one channel, in units of its own quiet level so that a noisy channel does not drown a
 * quiet one.
 */
function addDetectionEnergy(samples: Float64Array, rateHz: number, into: Float64Array): void {
  const ahead = Math.max(1, Math.round(AHEAD_S * rateHz));
  const behind = Math.round(BEHIND_S * rateHz);
  const count = samples.length;
  const sums = sumUp(samples);
  const own = new Float64Array(count);
  let largest = 0;
  for (let i = 0; i < count; i++) {
    const to = Math.min(count, i + ahead);
    const from = Math.max(0, i - behind);
    // At the very start there is nothing behind; the first sample stands in.
    const base = i === 0 ? samples[0]! : (sums[i]! - sums[from]!) / (i - from);
    own[i] = ((sums[to]! - sums[i]!) / (to - i) - base) ** 2;
    largest = Math.max(largest, own[i]!);
  }
  if (largest === 0) return;
  // Digital silence has no level; a billionth of the largest energy stands in for it.
  const quiet = Math.max(takeQuantile(own, QUIET_QUANTILE), 1e-9 * largest);
  for (let i = 0; i < count; i++) into[i] = into[i]! + own[i]! / quiet;
}

function averageAhead(energy: Float64Array, width: number): Float64Array {
  const sums = sumUp(energy);
  const out = new Float64Array(Math.max(0, energy.length - width));
  for (let i = 0; i < out.length; i++) out[i] = (sums[i + width]! - sums[i]!) / width;
  return out;
}

/** Long-term mean behind each sample, never below the quiet level, which also stands in at the start. */
function averageBehind(energy: Float64Array, rateHz: number, quiet: number): Float64Array {
  const sums = sumUp(energy);
  const long = Math.round(LONG_S * rateHz);
  const shortest = Math.round(SHORTEST_LONG_S * rateHz);
  const out = new Float64Array(energy.length).fill(quiet);
  for (let i = shortest; i < out.length; i++) {
    const from = Math.max(0, i - long);
    out[i] = Math.max(quiet, (sums[i]! - sums[from]!) / (i - from));
  }
  return out;
}

/** Low quantile of the variances of stretches of one length: that of the noise, wherever the recording is at rest. */
function readQuietVariance(samples: Float64Array, length: number): number {
  const variances = new Float64Array(Math.max(1, Math.floor(samples.length / length)));
  for (let i = 0; i < variances.length; i++) {
    variances[i] = measureRms(samples, i * length, Math.min((i + 1) * length, samples.length)) ** 2;
  }
  return Math.max(takeQuantile(variances, QUIET_QUANTILE), Number.MIN_VALUE);
}

/** Whether the blow between two samples is so far above the noise of some channel that its first sample shows. */
function standsOut(
  channels: readonly Float64Array[],
  variances: readonly number[],
  from: number,
  to: number,
): boolean {
  return channels.some((samples, c) => {
    const level = samples[from]!;
    const limit = PLAIN_PEAK * Math.sqrt(variances[c]!);
    for (let i = from; i < Math.min(to, samples.length); i++)
      if (Math.abs(samples[i]! - level) > limit) return true;
    return false;
  });
}

/** Places an onset found at the detection rate to the sample. */
function refine(channels: readonly Float64Array[], coarse: number, factor: number): number {
  if (factor === 1) return coarse;
  const from = Math.max(0, (coarse - REFINE_STEPS) * factor);
  return pickOnset(channels, from, Math.min(channels[0]!.length, (coarse + REFINE_STEPS) * factor));
}

function findLargest(values: Float64Array, from: number, to: number): number {
  let largest = 0;
  for (let i = Math.max(0, from); i < Math.min(to, values.length); i++)
    largest = Math.max(largest, values[i]!);
  return largest;
}

function findAbove(values: Float64Array, from: number, to: number, limit: number): number | null {
  for (let i = from; i < Math.min(to, values.length); i++) if (values[i]! > limit) return i;
  return null;
}

function sumUp(values: Float64Array): Float64Array {
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sums[i + 1] = sums[i]! + values[i]!;
  return sums;
}
