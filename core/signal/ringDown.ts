import { decimate } from './decimate.ts';
import type { NoiseStretch } from './strike.ts';

/**
 * Levels are compared below 20 Hz, where modes 1 and 2 ring longest: broad noise or hum would end a ring-down
 * too early.
 */
const LEVEL_RATE_HZ = 50;
/** Length of a level reading: near one period of the slowest mode 1. */
const LEVEL_S = 0.8;
const LEVEL_HOP_S = 0.2;
/** Ratio to the noise at which a ring-down has sunk: the mode is then weaker than the noise about it. */
const SUNK_RATIO = 1.3;
const SHORTEST_NOISE_S = 0.1;
const LONGEST_NOISE_S = 2;

/** Root mean square about the mean of samples [from, to); 0 for fewer than two. */
export function measureRms(samples: Float64Array, from: number, to: number): number {
  const count = to - from;
  if (count < 2) return 0;
  let sum = 0;
  for (let i = from; i < to; i++) sum += samples[i]!;
  const mean = sum / count;
  let squares = 0;
  for (let i = from; i < to; i++) squares += (samples[i]! - mean) ** 2;
  return Math.sqrt(squares / count);
}

/**
 * Picks the stretch that shows the noise: the quieter of what comes before the first strike and the end of
 * the recording. The end counts only where it is as quiet as a rest, or where it is quieter than the start.
 */
export function findNoiseStretch(
  channels: readonly Float64Array[],
  sampleRateHz: number,
  starts: readonly number[],
  guard: number,
): NoiseStretch {
  const frames = channels[0]!.length;
  const longest = Math.round(LONGEST_NOISE_S * sampleRateHz);
  const first = starts[0] ?? frames;
  const before = { startIndex: Math.max(0, first - guard - longest), endIndex: Math.max(0, first - guard) };
  if (before.endIndex - before.startIndex >= SHORTEST_NOISE_S * sampleRateHz)
    return { ...before, source: 'before' };

  const length = Math.min(Math.round(LEVEL_S * sampleRateHz), frames >> 1);
  const tail = { startIndex: frames - length, endIndex: frames };
  const earlier = { startIndex: frames - 2 * length, endIndex: frames - length };
  const levelOf = (stretch: { startIndex: number; endIndex: number }) =>
    channels.reduce((sum, samples) => sum + measureRms(samples, stretch.startIndex, stretch.endIndex), 0);
  // A tail that no longer decays is noise; one that does is still ringing.
  const isRinging =
    levelOf(earlier) > SUNK_RATIO * levelOf(tail) || (starts.at(-1) ?? 0) > earlier.startIndex;
  return { ...tail, source: isRinging ? 'none' : 'after' };
}

/** Levels at which each channel has sunk into the noise; null where the noise is not known. */
export function readSunkLevels(
  channels: readonly Float64Array[],
  sampleRateHz: number,
  noise: NoiseStretch,
): number[] | null {
  if (noise.source === 'none') return null;
  const factor = chooseLevelFactor(sampleRateHz);
  return channels.map((samples) => {
    const slow = decimate(samples.subarray(noise.startIndex, noise.endIndex), factor);
    return SUNK_RATIO * measureRms(slow, 0, slow.length);
  });
}

/**
 * Finds where the ring-down of a strike ends: at the first reading in which every channel is down to its level of
 * {@link readSunkLevels}, else at `limit`.
 */
export function findRingDownEnd(
  channels: readonly Float64Array[],
  sampleRateHz: number,
  startIndex: number,
  limit: number,
  sunkLevels: readonly number[] | null,
): { endIndex: number; sunk: boolean } {
  if (sunkLevels === null) return { endIndex: limit, sunk: false };
  const factor = chooseLevelFactor(sampleRateHz);
  const slow = channels.map((samples) => decimate(samples.subarray(startIndex, limit), factor));
  const length = Math.round((LEVEL_S * sampleRateHz) / factor);
  const hop = Math.round((LEVEL_HOP_S * sampleRateHz) / factor);
  const count = slow[0]!.length;
  for (let at = 0; at + length <= count; at += hop) {
    if (slow.every((ringing, c) => measureRms(ringing, at, at + length) <= sunkLevels[c]!)) {
      return { endIndex: Math.min(limit, startIndex + Math.max(at, hop) * factor), sunk: true };
    }
  }
  return { endIndex: limit, sunk: false };
}

function chooseLevelFactor(sampleRateHz: number): number {
  return Math.max(1, Math.floor(sampleRateHz / LEVEL_RATE_HZ));
}
