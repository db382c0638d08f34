import type { Evidence } from '../checks/evidence.ts';
import { CHECK_LIMITS } from '../checks/limits.ts';
import { type FaultMark, mark } from './faultMark.ts';
import { findStretches } from './findStretches.ts';

/** A top is flat within this share of its height, as in the check. */
const FLAT_SHARE = 0.002;
/** Tops of one swing of a sensor that rings at its end are one mark. */
const JOINED_S = 0.01;
const MOST_MARKS = 6;

/** Marks where the samples of each channel stand at the end of their range, and the height at which they are cut. */
export function markClipping({ recording, strike }: Evidence): FaultMark[] {
  const { sampleRateHz, channels } = recording;
  const marks = channels.flatMap((channel, c) => {
    const recorded = channel.extremesMPerS2 ?? channel.samplesMPerS2;
    const samples = recorded.subarray(strike.startIndex, strike.endIndex);
    let most = 0;
    for (const value of samples) most = Math.max(most, Math.abs(value));
    const limit = CHECK_LIMITS.clipping.care * (channel.fullScaleMPerS2 ?? Number.POSITIVE_INFINITY);
    const cutAt = most >= limit ? limit : (1 - FLAT_SHARE) * most;
    const stretches = findStretches(
      samples.length,
      (i) => Math.abs(samples[i]!) >= cutAt,
      JOINED_S * sampleRateHz,
    );
    return stretches.map(([from, to]) => ({ c, from, to, most, reaches: most >= limit }));
  });
  // where full scale is reached, a flat top elsewhere is the top of a round swing
  const kept = marks.some(({ reaches }) => reaches) ? marks.filter(({ reaches }) => reaches) : marks;
  return kept
    .sort((a, b) => b.to - b.from - (a.to - a.from))
    .slice(0, MOST_MARKS)
    .map(({ c, from, to, most }) =>
      mark('clipping', 'cut off here', {
        channel: c,
        timeS: [strike.startS + from / sampleRateHz, strike.startS + to / sampleRateHz],
        level: { mPerS2: most, bothSides: true },
      }),
    );
}
