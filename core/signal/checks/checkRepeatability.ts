import { computePsd } from '../computePsd.ts';
import type { Check } from './check.ts';
import { BLOW_S, type Evidence, MODE_BANDS } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';
import { CHECK_LIMITS } from './limits.ts';

type Band = (typeof MODE_BANDS)[number];

/** A band is compared where it stands this far over the noise in both strikes. */
const COMPARED_DB = CHECK_LIMITS['low-band'].care + 10;
/**
 * Lines are compared within this share of the frequency of the peak that both strikes share: of two modes in one band,
 * the harder blow lights the higher one more, and that is no disagreement...
 */
const COMPARED_SHARE = 0.15;
/** ...and at least within the width of a line under a Hann window, as a multiple of one over the reading. */
const LINE_WIDTHS = 2.5;

/**
 * Checks whether strikes by the same exciter tell the same spectrum. The likeness of two strikes is the
 * least, over bands and channels that ring in both, of (sum ab)^2 / (sum aa sum bb) of their amplitude
 * spectra round the highest peak: 1 for the same shape, whatever the force. Without a force channel this is all that can be said; it
 * is no coherence.
 * @param strikes - evidence of the usable strikes of one exciter
 */
export function checkRepeatability(strikes: readonly Evidence[], exciter: string): Check {
  let value = 1;
  let pair: [Evidence, Evidence] | null = null;
  const readFree = keepReadings();
  for (let i = 0; i < strikes.length; i++) {
    for (let j = i + 1; j < strikes.length; j++) {
      const likeness = compareStrikes(strikes[i]!, strikes[j]!, readFree);
      if (likeness === null || (pair !== null && likeness >= value)) continue;
      value = likeness;
      pair = [strikes[i]!, strikes[j]!];
    }
  }
  if (pair === null) {
    return passUnjudged('repeatability', `Fewer than two usable strikes by ${exciter} can be compared.`);
  }
  const place = (evidence: Evidence) =>
    `${evidence.recording.fileName} at ${evidence.strike.startS.toFixed(2)} s`;
  return judge(
    'repeatability',
    value,
    'below',
    `Strikes by ${exciter} disagree: ${place(pair[0])} and ${place(pair[1])} show different spectra.`,
    'Look for what changed between the blows (ladder, person, vehicle, strap), and strike again until two agree.',
  );
}

interface Amplitudes {
  readonly lines: Float64Array;
  readonly stepHz: number;
}

/** Amplitude spectrum of `length` samples of the free decay. */
type ReadFree = (samples: Float64Array, rateHz: number, length: number) => Amplitudes;

/** Reads each strike once at each length, however many others it is compared with. */
function keepReadings(): ReadFree {
  const kept = new Map<Float64Array, Map<number, Amplitudes>>();
  return (samples, rateHz, length) => {
    const own = kept.get(samples) ?? new Map<number, Amplitudes>();
    kept.set(samples, own);
    const there = own.get(length);
    if (there !== undefined) return there;
    const skip = skipBlow(rateHz);
    const free = samples.subarray(skip, skip + length);
    const { frequencyHz, density } = computePsd(free, { sampleRateHz: rateHz, segmentLength: length });
    const fresh = { lines: density.map(Math.sqrt), stepHz: frequencyHz[1]! };
    own.set(length, fresh);
    return fresh;
  };
}

function skipBlow(rateHz: number): number {
  return Math.round(BLOW_S * rateHz);
}

/** Least likeness over what rings in both; null where nothing does or the channels differ. */
function compareStrikes(a: Evidence, b: Evidence, readFree: ReadFree): number | null {
  if (a.ringDown.length !== b.ringDown.length || a.slowRateHz !== b.slowRateHz) return null;
  let least: number | null = null;
  for (let c = 0; c < a.ringDown.length; c++) {
    for (const [k, band] of MODE_BANDS.entries()) {
      if (Math.min(a.levels[c]![k]!.overNoiseDb, b.levels[c]![k]!.overNoiseDb) < COMPARED_DB) continue;
      const likeness = compareBand(a.ringDown[c]!, b.ringDown[c]!, a.slowRateHz, band, readFree);
      if (likeness !== null) least = Math.min(least ?? 1, likeness);
    }
  }
  return least;
}

function compareBand(
  a: Float64Array,
  b: Float64Array,
  rateHz: number,
  band: Band,
  readFree: ReadFree,
): number | null {
  const skip = skipBlow(rateHz);
  const length = Math.min(Math.round(band.readS * rateHz), a.length - skip, b.length - skip);
  // With less than half the reading, lines are too wide to differ.
  if (length < 0.5 * band.readS * rateHz) return null;
  const { lines: first, stepHz } = readFree(a, rateHz, length);
  const { lines: second } = readFree(b, rateHz, length);
  const peak = findSharedPeak(
    first,
    second,
    Math.ceil(band.lowHz / stepHz),
    Math.floor(band.highHz / stepHz),
  );
  if (peak === null) return null;
  const reach = Math.ceil(Math.max(COMPARED_SHARE * peak, (LINE_WIDTHS * rateHz) / length / stepHz));
  let both = 0;
  let firstPower = 0;
  let secondPower = 0;
  for (let k = Math.max(1, peak - reach); k <= Math.min(peak + reach, first.length - 1); k++) {
    both += first[k]! * second[k]!;
    firstPower += first[k]! ** 2;
    secondPower += second[k]! ** 2;
  }
  return firstPower > 0 && secondPower > 0 ? both ** 2 / (firstPower * secondPower) : null;
}

/** Line where the product of both is highest and no flank of what lies beside the band; null where there is none. */
function findSharedPeak(first: Float64Array, second: Float64Array, from: number, to: number): number | null {
  const at = (k: number) => first[k]! * second[k]!;
  let peak: number | null = null;
  for (let k = from; k <= to; k++) {
    if (at(k - 1) > at(k) || at(k + 1) > at(k)) continue;
    if (peak === null || at(k) > at(peak)) peak = k;
  }
  return peak;
}
