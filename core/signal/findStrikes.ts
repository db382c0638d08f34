import { InputError } from '../errors.ts';
import { checkSamples } from './checkSamples.ts';
import { findOnsets } from './findOnsets.ts';
import { readBlow, readQuietPower } from './readBlow.ts';
import { findNoiseStretch, findRingDownEnd, measureRms, readSunkLevels } from './ringDown.ts';
import type { Strike } from './strike.ts';

/** A further impact within this time of a strike is a double blow and belongs to it. */
const DOUBLE_BLOW_S = 1.5;
/** Longest stretch kept before a blow. */
const PRE_TRIGGER_S = 1;
/** Onsets below this share of the strongest one's energy (5 % of its amplitude) are steps, tools and wind. */
const WEAKEST_SHARE = 0.0025;
/** Kept clear before a blow, since its filtered onset reaches a little ahead. */
const GUARD_S = 0.01;
const FEWEST_SAMPLES = 16;
const SHORTEST_RECORD_S = 0.1;

/**
 * Finds the strikes in a recording, over all channels together, and the ring-down that belongs to each: up to
 * the next strike, to where the signal has sunk into the noise, or to the end of the recording. A second
 * impact soon after a blow belongs to the same strike; the check for double blows reports it.
 * @param channels - one or more, equally long and finite, in any unit
 * @returns strikes in order of time; none where nothing stands out of the noise
 * @throws InputError `signal.channels`, `signal.samples`, `signal.rate`
 */
export function findStrikes(channels: readonly Float64Array[], sampleRateHz: number): Strike[] {
  const frames = channels[0]?.length ?? 0;
  if (channels.length === 0 || channels.some((samples) => samples.length !== frames)) {
    throw new InputError(
      'signal.channels',
      `${channels.length} channels of ${channels.map((samples) => samples.length).join(', ')} samples; one or more of equal length are expected.`,
      'Pass all channels of one recording.',
    );
  }
  for (const samples of channels) checkSamples(samples, sampleRateHz, FEWEST_SAMPLES);
  if (frames / sampleRateHz < SHORTEST_RECORD_S) return [];

  const onsets = findOnsets(channels, sampleRateHz, DOUBLE_BLOW_S);
  const strongest = onsets.reduce((most, onset) => Math.max(most, onset.strength), 0);
  const starts = onsets.flatMap(({ index, strength }) =>
    strength >= WEAKEST_SHARE * strongest ? [index] : [],
  );
  if (starts.length === 0) return [];
  const guard = Math.round(GUARD_S * sampleRateHz);
  const noise = findNoiseStretch(channels, sampleRateHz, starts, guard);
  const noiseRms = Float64Array.from(channels, (samples) =>
    measureRms(samples, noise.startIndex, noise.endIndex),
  );
  const sunkLevels = readSunkLevels(channels, sampleRateHz, noise);
  const quiet = readQuietPower(channels, sampleRateHz, noise);

  let free = 0;
  return starts.map((startIndex, i): Strike => {
    const limit = i + 1 < starts.length ? Math.max(starts[i + 1]! - guard, startIndex + 1) : frames;
    const ringDown = findRingDownEnd(channels, sampleRateHz, startIndex, limit, sunkLevels);
    const endReason = ringDown.sunk ? 'noise' : limit === frames ? 'record end' : 'next strike';
    const preTriggerStartIndex = Math.max(free, startIndex - Math.round(PRE_TRIGGER_S * sampleRateHz));
    free = ringDown.endIndex;
    return {
      startIndex,
      startS: startIndex / sampleRateHz,
      endIndex: ringDown.endIndex,
      endS: ringDown.endIndex / sampleRateHz,
      endReason,
      preTriggerStartIndex: Math.min(preTriggerStartIndex, startIndex),
      noise,
      noiseRms,
      peak: Float64Array.from(channels, (samples) => findPeak(samples, startIndex, ringDown.endIndex)),
      ...readBlow(channels, sampleRateHz, startIndex, quiet),
    };
  });
}

function findPeak(samples: Float64Array, startIndex: number, endIndex: number): number {
  const level = samples[Math.max(0, startIndex - 1)]!;
  let peak = 0;
  for (let i = startIndex; i < endIndex; i++) peak = Math.max(peak, Math.abs(samples[i]! - level));
  return peak;
}
