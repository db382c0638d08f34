import { computePsd } from '../computePsd.ts';
import type { Check } from './check.ts';
import { BLOW_S, type Evidence, MODE_BANDS } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';
import { CHECK_LIMITS } from './limits.ts';

type Band = (typeof MODE_BANDS)[number];

/** A band is compared where it stands this far over the noise in both strikes. */
const COMPARED_DB = CHECK_LIMITS['low-band'].care + 5;

/**
 * Checks whether strikes by the same exciter tell the same spectrum. The likeness of two strikes is the
 * least, over bands and channels that ring in both, of (sum ab)^2 / (sum aa sum bb) of their amplitude
 * spectra: 1 for the same shape, whatever the force. Without a force channel this is all that can be said; it
 * is no coherence.
 * @param strikes - evidence of the usable strikes of one exciter
 */
export function checkRepeatability(strikes: readonly Evidence[], exciter: string): Check {
  let value = 1;
  let pair: [Evidence, Evidence] | null = null;
  const readBand = keepReadings();
  for (let i = 0; i < strikes.length; i++) {
    for (let j = i + 1; j < strikes.length; j++) {
      const likeness = compareStrikes(strikes[i]!, strikes[j]!, readBand);
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

/** Amplitudes of the lines of a band, over `length` samples of the free decay. */
type ReadBand = (samples: Float64Array, rateHz: number, band: Band, length: number) => Float64Array;

/** Reads each band of each strike once, however many others the strike is compared with. */
function keepReadings(): ReadBand {
  const kept = new Map<Float64Array, Map<string, Float64Array>>();
  return (samples, rateHz, band, length) => {
    const own = kept.get(samples) ?? new Map<string, Float64Array>();
    kept.set(samples, own);
    const key = `${band.name} ${length}`;
    const there = own.get(key);
    if (there !== undefined) return there;
    const skip = skipBlow(rateHz);
    const free = samples.subarray(skip, skip + length);
    const { frequencyHz, density } = computePsd(free, { sampleRateHz: rateHz, segmentLength: length });
    const fresh = density.filter((_, k) => frequencyHz[k]! >= band.lowHz && frequencyHz[k]! <= band.highHz);
    for (let k = 0; k < fresh.length; k++) fresh[k] = Math.sqrt(fresh[k]!);
    own.set(key, fresh);
    return fresh;
  };
}

function skipBlow(rateHz: number): number {
  return Math.round(BLOW_S * rateHz);
}

/** Least likeness over what rings in both; null where nothing does or the channels differ. */
function compareStrikes(a: Evidence, b: Evidence, readBand: ReadBand): number | null {
  if (a.ringDown.length !== b.ringDown.length || a.slowRateHz !== b.slowRateHz) return null;
  let least: number | null = null;
  for (let c = 0; c < a.ringDown.length; c++) {
    for (const [k, band] of MODE_BANDS.entries()) {
      if (Math.min(a.levels[c]![k]!.overNoiseDb, b.levels[c]![k]!.overNoiseDb) < COMPARED_DB) continue;
      const likeness = compareBand(a.ringDown[c]!, b.ringDown[c]!, a.slowRateHz, band, readBand);
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
  readBand: ReadBand,
): number | null {
  const skip = skipBlow(rateHz);
  const length = Math.min(Math.round(band.readS * rateHz), a.length - skip, b.length - skip);
  // With less than half the reading, lines are too wide to differ.
  if (length < 0.5 * band.readS * rateHz) return null;
  const first = readBand(a, rateHz, band, length);
  const second = readBand(b, rateHz, band, length);
  let both = 0;
  let firstPower = 0;
  let secondPower = 0;
  for (let k = 0; k < first.length; k++) {
    both += first[k]! * second[k]!;
    firstPower += first[k]! ** 2;
    secondPower += second[k]! ** 2;
  }
  return firstPower > 0 && secondPower > 0 ? both ** 2 / (firstPower * secondPower) : null;
}
