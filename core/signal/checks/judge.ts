import type { Check, CheckId, Verdict } from './check.ts';
import { CHECK_LIMITS } from './limits.ts';

/** Makes the outcome of a check that the recording does not allow. */
export function passUnjudged(id: CheckId, text: string): Check {
  const { care, unit } = CHECK_LIMITS[id];
  return { id, verdict: 'use', value: null, limit: care, unit, text, advice: '' };
}

/**
 * Holds a figure against the limits of its check.
 * @param isWorse - `above`: high figures are bad; `below`: low ones are
 * @param text - what is wrong, kept where something is
 * @param advice - what to do next time, kept where something is wrong
 */
export function judge(
  id: CheckId,
  value: number,
  isWorse: 'above' | 'below',
  text: string,
  advice: string,
): Check {
  const { care, repeat, unit } = CHECK_LIMITS[id];
  const isBeyond = (limit: number) => (isWorse === 'above' ? value >= limit : value < limit);
  const verdict: Verdict =
    repeat !== null && isBeyond(repeat) ? 'repeat' : isBeyond(care) ? 'use with care' : 'use';
  const isFine = verdict === 'use';
  return { id, verdict, value, limit: care, unit, text: isFine ? '' : text, advice: isFine ? '' : advice };
}
