import { FitError } from './errors.ts';

/** Numbers in results: beyond any measurement, short enough to read. */
export const RESULT_DIGITS = 7;

/**
 * A copy of a plain value in which every number has at most so many significant digits.
 * @throws FitError `result.notFinite` for a number that is none, which no result may carry
 */
export function roundNumbers<T>(value: T, digits: number): T {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new FitError(
      'result.notFinite',
      `A figure of the result is ${value}.`,
      'Check the picks and the measurements of the visit for values out of the ordinary; report it if there are none.',
    );
  }
  if (typeof value === 'number') return Number(value.toPrecision(digits)) as T;
  if (Array.isArray(value)) return value.map((item) => roundNumbers(item, digits)) as T;
  if (typeof value === 'object' && value !== null) {
    return Object.fromEntries(
      Object.entries(value).map(([key, item]) => [key, roundNumbers(item, digits)]),
    ) as T;
  }
  return value;
}
