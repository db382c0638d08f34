import { FormatError } from '../errors.ts';

/**
 * Largest departure from even steps, as a share of the step (ours: 0.1 % of a step moves no frequency that
 * matters).
 */
const LARGEST_JITTER = 1e-3;
/** Printed times may be rounded; a rounding beyond this share of the step leaves the step itself in doubt. */
const LARGEST_ROUNDING = 0.1;

/**
 * Finds the step of a time column and makes sure that it is even.
 * @param timeS - times in s, two or more
 * @param roundingS - half of the last decimal printed, in s: departures up to it are put down to rounding
 * @param rowOfFrame - row in the file of each frame, for the error
 * @returns step in s: last less first over their number
 * @throws FormatError `csv.time-step` with the row where the step departs from the usual one
 */
export function findTimeStep(
  timeS: Float64Array,
  roundingS: number,
  rowOfFrame: readonly number[],
  fileName: string,
): number {
  const count = timeS.length - 1;
  const stepS = (timeS[count]! - timeS[0]!) / count;
  const steps = new Float64Array(count);
  for (let i = 0; i < count; i++) steps[i] = timeS[i + 1]! - timeS[i]!;
  const usualS = steps.slice().sort()[count >> 1]!;
  const rounding = roundingS < LARGEST_ROUNDING * usualS ? roundingS : 0;
  // Two rounded times make a step, hence twice the rounding; 1e-12 is the noise of subtraction.
  const toleranceS = LARGEST_JITTER * usualS + 2 * rounding + 1e-12 * Math.abs(timeS[count]!);
  for (let i = 0; i < count; i++) {
    if (usualS > 0 && Math.abs(steps[i]! - usualS) <= toleranceS) continue;
    throw new FormatError(
      'csv.time-step',
      `${fileName}, row ${rowOfFrame[i + 1]}: the time step is ${steps[i]!.toPrecision(6)} s and the usual one ${usualS.toPrecision(6)} s; steps must be above zero and alike within 0.1 %.`,
      'Rows are missing, out of order, or times are printed too coarsely; export again at an even rate, or leave the time column out and state sample_rate_hz.',
    );
  }
  return stepS;
}
