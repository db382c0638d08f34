import type { Check } from './check.ts';
import type { Evidence } from './evidence.ts';
import { judge, passUnjudged } from './judge.ts';
import { CHECK_LIMITS } from './limits.ts';

/**
 * A sensor that saturates below the recorder's full scale cuts tops off flat: samples this near the
 * extreme...
 */
const TOP_SHARE = 0.002;
/**
 * ...and this near it span about the same time, where a round top spans a fifth of it (square root of 0.002
 * over 0.05).
 */
const SHOULDER_SHARE = 0.05;
const FLAT_RATIO = 0.6;
const FEWEST_FLAT_SAMPLES = 4;
const FEWEST_STEPS = 3;

type Samples = Float64Array | Float32Array;

/** Checks whether the blow drove sensor or recorder to the end of their range. */
export function checkClipping({ recording, strike }: Evidence): Check {
  let share: number | null = null;
  let flat = false;
  for (const channel of recording.channels) {
    const recorded = channel.extremesMPerS2 ?? channel.samplesMPerS2;
    const samples = recorded.subarray(strike.startIndex, strike.endIndex);
    const extreme = findExtreme(samples);
    flat ||= isFlatTop(samples, extreme);
    if (channel.fullScaleMPerS2 !== null) {
      share = Math.max(share ?? 0, Math.abs(samples[extreme]!) / channel.fullScaleMPerS2);
    }
  }
  const advice = 'Lower the gain or take a sensor of wider range, and strike again a little softer.';
  if (flat && (share ?? 0) < CHECK_LIMITS.clipping.repeat!) {
    const text = `The highest peak is cut off flat${share === null ? '' : ` at ${share.toFixed(2)} of full scale`}: the sensor ran into its end.`;
    return { ...judge('clipping', 1, 'above', text, advice), value: share };
  }
  if (share === null)
    return passUnjudged(
      'clipping',
      'Full scale is not known; only flat tops were looked for, and none were found.',
    );
  return judge(
    'clipping',
    share,
    'above',
    `The blow reached ${share.toFixed(2)} of full scale and is cut off.`,
    advice,
  );
}

function findExtreme(samples: Samples): number {
  let extreme = 0;
  let most = Math.abs(samples[0]!);
  for (let i = 1; i < samples.length; i++) {
    const size = Math.abs(samples[i]!);
    if (size <= most) continue;
    most = size;
    extreme = i;
  }
  return extreme;
}

function isFlatTop(samples: Samples, extreme: number): boolean {
  const top = samples[extreme]!;
  const spanWithin = (share: number) => {
    const isNear = (i: number) => Math.abs(samples[i]! - top) <= share * Math.abs(top);
    let from = extreme;
    let to = extreme;
    while (from > 0 && isNear(from - 1)) from--;
    while (to < samples.length - 1 && isNear(to + 1)) to++;
    return to - from + 1;
  };
  const flat = spanWithin(TOP_SHARE);
  if (flat < FEWEST_FLAT_SAMPLES || flat < FLAT_RATIO * spanWithin(SHOULDER_SHARE)) return false;
  // Coarse steps are flat by themselves: the shoulder must span a few of them.
  return SHOULDER_SHARE * Math.abs(top) >= FEWEST_STEPS * findStep(samples);
}

/** Smallest difference of neighbours that is not zero: the step of the recorder, or less. */
function findStep(samples: Samples): number {
  let step = Number.POSITIVE_INFINITY;
  for (let i = 1; i < samples.length; i++) {
    const difference = Math.abs(samples[i]! - samples[i - 1]!);
    if (difference > 0 && difference < step) step = difference;
  }
  return step;
}
