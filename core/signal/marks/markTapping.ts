import { greatestOf } from '../../vectors.ts';
import type { Evidence } from '../checks/evidence.ts';
import { TAPPING_ABOVE_HZ } from '../checks/readTapping.ts';
import { filterLowPass } from '../filterLowPass.ts';
import { type FaultMark, mark } from './faultMark.ts';
import { findStretches } from './findStretches.ts';

/** The blow itself is full of high frequencies for this long. */
const BLOW_OVER_S = 0.15;
const LOOKED_FOR_S = 3;
/** A tap stands this far over the usual size of what lies above the modes... */
const STANDS_OUT = 5;
/** Swings of one tap. */
const JOINED_S = 0.01;
/** ...and this near to the loudest: the filter rings a little on both sides of a tap. */
const LEAST_SHARE = 0.25;
const MOST_MARKS = 8;

/** Marks the loudest bursts above the modes behind a blow, in the channel where each is loudest. */
export function markTapping({ recording, strike }: Evidence): FaultMark[] {
  const { sampleRateHz, channels } = recording;
  const from = strike.startIndex + Math.round(BLOW_OVER_S * sampleRateHz);
  const to = Math.min(strike.endIndex, from + Math.round(LOOKED_FOR_S * sampleRateHz));
  const bursts = channels.flatMap(({ samplesMPerS2 }, c) => {
    const whole = samplesMPerS2.subarray(from, to);
    const low = filterLowPass(whole, (2 * TAPPING_ABOVE_HZ) / sampleRateHz, 1);
    const high = whole.map((value, i) => Math.abs(value - low[i]!));
    const usual = high.slice().sort()[high.length >> 1] ?? 0;
    const loudest = greatestOf(high, 0);
    const least = Math.max(STANDS_OUT * usual, LEAST_SHARE * loudest);
    return findStretches(high.length, (i) => high[i]! > least, JOINED_S * sampleRateHz).map(
      ([start, end]) => ({
        channel: c,
        start,
        end,
        size: greatestOf(high.subarray(start, end), 0),
      }),
    );
  });
  return bursts
    .sort((a, b) => b.size - a.size)
    .slice(0, MOST_MARKS)
    .map(({ channel, start, end }) =>
      mark('rattle', 'tapping', {
        channel,
        timeS: [(from + start) / sampleRateHz, (from + end) / sampleRateHz],
        frequencyHz: [TAPPING_ABOVE_HZ, sampleRateHz / 2],
      }),
    );
}
