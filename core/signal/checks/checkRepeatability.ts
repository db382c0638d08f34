import { computePsd } from '../computePsd.ts';
import type { Check } from './check.ts';
import { BLOW_S, type Evidence, MODE_BANDS } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';
import { CHECK_LIMITS } from './limits.ts';

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
  for (let i = 0; i < strikes.length; i++) {
    for (let j = i + 1; j < strikes.length; j++) {
      const likeness = compareStrikes(strikes[i]!, strikes[j]!);
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

/** Least likeness over what rings in both; null where nothing does or the channels differ. */
function compareStrikes(a: Evidence, b: Evidence): number | null {
  if (a.ringDown.length !== b.ringDown.length || a.slowRateHz !== b.slowRateHz) return null;
  let least: number | null = null;
  for (let c = 0; c < a.ringDown.length; c++) {
    for (const [k, band] of MODE_BANDS.entries()) {
      if (Math.min(a.levels[c]![k]!.overNoiseDb, b.levels[c]![k]!.overNoiseDb) < COMPARED_DB) continue;
      const likeness = compareBand(a.ringDown[c]!, b.ringDown[c]!, a.slowRateHz, band);
      if (likeness !== null) least = Math.min(least ?? 1, likeness);
    }
  }
  return least;
}

function compareBand(
  a: Float64Array,
  b: Float64Array,
  rateHz: number,
  band: (typeof MODE_BANDS)[number],
): number | null {
  const skip = Math.round(BLOW_S * rateHz);
  const length = Math.min(Math.round(band.readS * rateHz), a.length - skip, b.length - skip);
  // With less than half the reading, lines are too wide to differ.
  if (length < 0.5 * band.readS * rateHz) return null;
  const read = (samples: Float64Array) =>
    computePsd(samples.subarray(skip, skip + length), { sampleRateHz: rateHz, segmentLength: length });
  const first = read(a);
  const second = read(b);
  let both = 0;
  let firstPower = 0;
  let secondPower = 0;
  for (let k = 0; k < first.density.length; k++) {
    if (first.frequencyHz[k]! < band.lowHz || first.frequencyHz[k]! > band.highHz) continue;
    both += Math.sqrt(first.density[k]! * second.density[k]!);
    firstPower += first.density[k]!;
    secondPower += second.density[k]!;
  }
  return firstPower > 0 && secondPower > 0 ? both ** 2 / (firstPower * secondPower) : null;
}
