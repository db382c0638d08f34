import { greatestDistance } from '../../vectors.ts';
import type { Check } from './check.ts';
import type { Evidence } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';

/** Long against mode 1, so that a Hann-weighted mean over it is the level and not a swing. */
const LEVEL_S = 2;
const SHORTEST_LEVEL_S = 1;
/** A steady offset harms nothing but headroom; it counts at a fifth of a shift. */
const STEADY_SHARE = 0.2;

/** Checks whether the level shifted with the blow, or stood far off zero before it. */
export function checkOffset({ ringDown, noise, knowsNoise, slowRateHz }: Evidence): Check {
  let value = 0;
  let shifted = false;
  for (let c = 0; c < ringDown.length; c++) {
    const samples = ringDown[c]!;
    const length = Math.min(Math.round(LEVEL_S * slowRateHz), samples.length);
    if (length < SHORTEST_LEVEL_S * slowRateHz) {
      return passUnjudged(
        'offset',
        'The ring-down is too short to tell a shift of level from a swing of mode 1.',
      );
    }
    // A sliding reading: the level may be back before the end.
    const levels: number[] = [];
    for (let at = 0; at + length <= samples.length; at += length >> 1) {
      levels.push(readLevel(samples.subarray(at, at + length)));
    }
    const before = knowsNoise ? readLevel(noise[c]!) : levels.at(-1)!;
    const peak = greatestDistance(samples, before);
    if (peak === 0) continue;
    const shift = Math.max(...levels.map((level) => Math.abs(level - before))) / peak;
    const steady = (STEADY_SHARE * Math.abs(before)) / peak;
    if (Math.max(shift, steady) <= value) continue;
    value = Math.max(shift, steady);
    shifted = shift >= steady;
  }
  return judge(
    'offset',
    value,
    'above',
    shifted
      ? `The level shifts by ${(100 * value).toFixed(0)} % of the peak during the ring-down.`
      : `The level stands off zero by ${((100 * value) / STEADY_SHARE).toFixed(0)} % of the peak.`,
    'Let the sensor settle in temperature, check its mounting, and keep the blow below its range.',
  );
}

/** Mean under a Hann window, which leaves out what swings. */
function readLevel(samples: Float64Array): number {
  let sum = 0;
  let weights = 0;
  for (let i = 0; i < samples.length; i++) {
    const weight = 1 - Math.cos((2 * Math.PI * (i + 0.5)) / samples.length);
    sum += weight * samples[i]!;
    weights += weight;
  }
  return sum / weights;
}
