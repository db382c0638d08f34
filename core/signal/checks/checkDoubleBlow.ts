import { greatestOf, scaled, sumOf } from '../../vectors.ts';
import { averageBlocks } from '../averageBlocks.ts';
import type { Check } from './check.ts';
import type { Evidence } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';
import { predictDecay } from './predictDecay.ts';

/** Impacts are looked for up to 200 Hz: high enough to part two within 15 ms, below most rattle. */
const RATE_HZ = 500;
/**
 * Two coefficients a mode: up to sixteen modes ring with strength, those above half the rate folded into it.
 */
const ORDER = 32;
/** Samples kept before the onset. */
const LEAD = 64;
/** Longest contact of one blow (common practice, no source); force is still acting until it ends. */
const CONTACT_S = { hammer: 0.015, hand: 0.05, unknown: 0.05 } as const;
/** The second impact is looked for this long, as in findStrikes. */
const REACH_S = 1.5;
const FIT_MORE_S = 0.5;
/** An impact lasts some 5 ms or more; shorter spikes are noise. */
const SMOOTH_S = 0.008;
/**
 * An impact stands this far over the usual residual, and times its share of the first further: what noise, wind and
 * rattle leave unpredicted comes to 6.5 on simulated single blows, second impacts of a third of the first to 8.8 and more.
 */
const STANDS_OUT = 6;
const STANDS_OUT_BY_SHARE = 7.5;

/** Checks for a second impact within the ring-down. */
export function checkDoubleBlow(evidence: Evidence): Check {
  const second = findSecondImpact(evidence);
  if (second === null) {
    return passUnjudged('double-blow', 'The ring-down is too short to look for a second impact.');
  }
  const { share, afterS } = second;
  return judge(
    'double-blow',
    share,
    'above',
    `A second impact of ${(100 * share).toFixed(0)} % of the first came ${(1000 * afterS).toFixed(0)} ms after it.`,
    'Let the hammer or hand spring back at once; strike once and step away.',
  );
}

/**
 * Finds the strongest second impact. A free decay can be predicted from itself and an impact cannot, so its share is
 * the largest rise of the unpredicted behind the blow over the jump of the blow. A rise, not a level: what the blow
 * itself leaves unpredicted, the highest modes above all, dies away after it.
 * @returns share of the first impact, 0 where none stands out, and time after it; null where the ring-down is too short
 */
export function findSecondImpact({ recording, strike }: Evidence): { share: number; afterS: number } | null {
  const factor = Math.max(1, Math.floor(recording.sampleRateHz / RATE_HZ));
  const rateHz = recording.sampleRateHz / factor;
  const from = strike.startIndex - LEAD * factor;
  const to = Math.min(
    strike.endIndex,
    strike.startIndex + Math.round((REACH_S + FIT_MORE_S) * recording.sampleRateHz),
  );
  const slow = recording.channels.map(({ samplesMPerS2 }) =>
    removeLevel(averageBlocks(cutFrom(samplesMPerS2, from, to), factor)),
  );
  const free = LEAD + Math.ceil(CONTACT_S[recording.exciter] * rateHz);
  const residual = predictDecay(slow, ORDER, free);
  if (residual === null) return null;
  const jumps = smooth(residual, Math.max(2, Math.round(SMOOTH_S * rateHz)));
  const first = greatestOf(jumps.subarray(LEAD >> 1, free), 0);
  const rest = jumps.subarray(free, LEAD + Math.round(REACH_S * rateHz));
  const usual = rest.slice().sort()[rest.length >> 1] ?? 0;
  let lowest = Number.POSITIVE_INFINITY;
  let second = 0;
  let secondAt = 0;
  for (let i = 0; i < rest.length; i++) {
    lowest = Math.min(lowest, rest[i]!);
    if (rest[i]! - lowest <= second) continue;
    second = rest[i]! - lowest;
    secondAt = free + i;
  }
  const stands = second / Math.max(usual, Number.MIN_VALUE);
  const isImpact = first > 0 && stands > STANDS_OUT && stands * second > STANDS_OUT_BY_SHARE * first;
  return { share: isImpact ? second / first : 0, afterS: (secondAt - LEAD) / rateHz };
}

/** Samples [from, to); what lies before the recording is held at its first value. */
function cutFrom(samples: Float64Array, from: number, to: number): Float64Array {
  if (from >= 0) return samples.subarray(from, to);
  const out = new Float64Array(to - from).fill(samples[0]!);
  out.set(samples.subarray(0, to), -from);
  return out;
}

/** Takes off the mean of the first half of the stretch before the blow. */
function removeLevel(samples: Float64Array): Float64Array {
  return scaled(samples, 1, -sumOf(samples.subarray(0, LEAD >> 1)) / (LEAD >> 1));
}

/** Root mean square over `width` samples from each on. */
function smooth(values: Float64Array, width: number): Float64Array {
  const out = new Float64Array(values.length);
  for (let i = 0; i + width <= values.length; i++) {
    let squares = 0;
    for (let j = 0; j < width; j++) squares += values[i + j]! ** 2;
    out[i] = Math.sqrt(squares / width);
  }
  return out;
}
