import { deepestSettingM, PRIOR_LIMITS } from '../../../core/workspace/contract.ts';
import { readNumber } from '../../parts/readNumber.ts';
import { type EditableName, widestHigh } from './priorEdits.ts';

type Ends = { low: number; high: number };
/** Words on what can be typed, at the field that they are about. */
export type WrongEnds = { [End in keyof Ends]?: string };

/** Digits of the greatest end that is offered. */
const DIGITS = 3;

/**
 * The 90 % range that was typed for a prior, in SI units; or words at the field that the program would not take.
 * @param typed - both ends as typed, in the unit shown
 * @param unit - that unit, and how much it is in SI
 * @param lengthM - whole length of the pole
 */
export function readRange(
  name: EditableName,
  typed: { low: string; high: string },
  { symbol: unit, scale }: { symbol: string; scale: number },
  lengthM: number,
): { range: Ends } | { wrong: WrongEnds } {
  const { least, most } = PRIOR_LIMITS[name];
  const deepest = name === 'settingDepthM' ? Math.min(most, deepestSettingM(lengthM)) : most;
  const limits = { least: least / scale, most: deepest / scale, unit };
  const [from, to] = [readNumber(typed.low, limits), readNumber(typed.high, limits)];
  if ('wrong' in from || 'wrong' in to) {
    return {
      wrong: {
        ...('wrong' in from && { low: from.wrong }),
        ...('wrong' in to && { high: to.wrong }),
      },
    };
  }
  if (!(to.number > from.number)) return { wrong: { high: 'type more than the first number' } };
  const range = { low: from.number * scale, high: to.number * scale };
  const widest = widestHigh(name, range.low);
  if (range.high > widest) {
    const greatest = `${roundDown(widest / scale)} ${unit}`;
    return { wrong: { high: `too wide a range: type at most ${greatest}` } };
  }
  return { range };
}

function roundDown(value: number): number {
  const step = 10 ** (Math.floor(Math.log10(value)) + 1 - DIGITS);
  return Number((Math.floor(value / step) * step).toPrecision(DIGITS));
}
