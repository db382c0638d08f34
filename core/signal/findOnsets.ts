import { decimate } from './decimate.ts';
import { pickOnset } from './pickOnset.ts';

/** Detection works at 1 to 2 kHz: blows and modes lie well below, and noise above is shed. */
const DETECTION_RATE_HZ = 1000;
/** Short mean ahead of a sample: sheds noise, keeps the rise of the softest blow. */
const AHEAD_S = 0.004;
/** Mean behind a sample, taken off: removes offset, drift and most of mode 1, which rings on under the next blow. */
const BEHIND_S = 0.1;
const SHORT_S = 0.02;
const LONG_S = 1;
/** Less history than this says nothing of the level before a blow. */
const SHORTEST_LONG_S = 0.05;
/**
 * Short-term over long-term mean energy that makes an onset. Steady noise stays below 3, the beats of a ring-down below 4;
 * a blow 10 dB over noise gives 11 (ours; seismic practice uses 3 to 10).
 */
const ONSET_RATIO = 6;
/** Share of the lowest detection energies that is taken as the quiet level. */
const QUIET_QUANTILE = 0.1;
/** Energies are chi-square distributed; their lowest tenth lies below the mean by about this factor. */
const QUIET_TO_MEAN = 4;
/** No new onset within this time: the rise of one blow takes up to 30 ms. */
const SHORTEST_GAP_S = 0.04;

export interface Onset {
  readonly index: number;
  /** Largest short-term energy after the onset, in units of the quiet level; ranks onsets of one recording. */
  readonly strength: number;
}

/**
 * Finds where blows set in, over all channels together, by short-term over long-term mean energy (Allen 1978, Bull.
 * Seismol. Soc. Am. 68(5):1521-1532), and places each by Akaike's criterion (see `pickOnset.ts`).
 * Bounces and double blows are onsets of their own here.
 * @param channels - one or more, equally long, finite
 */
export function findOnsets(channels: readonly Float64Array[], sampleRateHz: number): Onset[] {
  const factor = Math.max(1, Math.floor(sampleRateHz / DETECTION_RATE_HZ));
  const rateHz = sampleRateHz / factor;
  const slow = channels.map((samples) => decimate(samples, factor));
  const count = slow[0]!.length;
  const energy = new Float64Array(count);
  for (const samples of slow) addDetectionEnergy(samples, rateHz, energy);
  const quiet = Math.max(takeQuantile(energy, QUIET_QUANTILE) * QUIET_TO_MEAN, Number.MIN_VALUE);

  const sums = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) sums[i + 1] = sums[i]! + energy[i]!;
  const short = Math.max(2, Math.round(SHORT_S * rateHz));
  const long = Math.round(LONG_S * rateHz);
  const shortestLong = Math.round(SHORTEST_LONG_S * rateHz);
  const gap = Math.round(SHORTEST_GAP_S * rateHz);
  const meanOf = (from: number, to: number) => (sums[to]! - sums[from]!) / (to - from);

  const onsets: Onset[] = [];
  for (let i = 0; i + short <= count; i++) {
    const ahead = meanOf(i, i + short);
    const behind = i >= shortestLong ? meanOf(Math.max(0, i - long), i) : quiet;
    if (ahead < ONSET_RATIO * Math.max(behind, quiet)) continue;
    let strength = 0;
    for (let j = i; j < Math.min(i + 2 * gap, count - short); j++)
      strength = Math.max(strength, meanOf(j, j + short));
    // The trigger fires while the blow is still ahead in the short window, so the onset lies in it or just before.
    const coarse = pickOnset(slow, Math.max(0, i - 3 * short), Math.min(count, i + 2 * short));
    const index = factor === 1 ? coarse : refine(channels, coarse * factor, factor);
    onsets.push({ index, strength: strength / quiet });
    i += gap;
    while (
      i + short <= count &&
      meanOf(i, i + short) >= ONSET_RATIO * Math.max(meanOf(Math.max(0, i - long), i), quiet)
    )
      i++;
  }
  return onsets;
}

/** Adds the energy of one channel, in units of its own quiet level so that a noisy channel does not drown a quiet one. */
function addDetectionEnergy(samples: Float64Array, rateHz: number, into: Float64Array): void {
  const ahead = Math.max(1, Math.round(AHEAD_S * rateHz));
  const behind = Math.round(BEHIND_S * rateHz);
  const count = samples.length;
  const sums = new Float64Array(count + 1);
  for (let i = 0; i < count; i++) sums[i + 1] = sums[i]! + samples[i]!;
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

/** Places an onset found at the detection rate to the sample, within a few steps of that rate. */
function refine(channels: readonly Float64Array[], around: number, factor: number): number {
  const reach = 4 * factor;
  return pickOnset(channels, Math.max(0, around - reach), Math.min(channels[0]!.length, around + reach));
}

function takeQuantile(values: Float64Array, share: number): number {
  return values.slice().sort()[Math.floor(share * (values.length - 1))]!;
}
