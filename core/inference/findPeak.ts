import type { Integral } from './integrateGrid.ts';

/**
 * Finds where a posterior is highest between its grid points: the top of the quadric that ln weight makes of the highest point and its
 * eight neighbours (central differences; textbook), at most a step away from it. The point itself at the edge of the grid, beside
 * neighbours that weigh nothing, and where the quadric has no top.
 */
export function findPeak({ lnModulus, x, weights }: Integral): { x: number; lnModulus: number } {
  const columns = lnModulus.length;
  let best = 0;
  for (let at = 1; at < weights.length; at++) if (weights[at]! > weights[best]!) best = at;
  const row = Math.floor(best / columns);
  const column = best % columns;
  const point = { x: x[row]!, lnModulus: lnModulus[column]! };
  if (row === 0 || row === x.length - 1 || column === 0 || column === columns - 1) return point;
  const ln = (up: number, right: number) => Math.log(weights[best + up * columns + right]!);
  const [slopeUp, slopeRight] = [(ln(1, 0) - ln(-1, 0)) / 2, (ln(0, 1) - ln(0, -1)) / 2];
  const bendUp = ln(1, 0) - 2 * ln(0, 0) + ln(-1, 0);
  const bendRight = ln(0, 1) - 2 * ln(0, 0) + ln(0, -1);
  const twist = (ln(1, 1) - ln(1, -1) - ln(-1, 1) + ln(-1, -1)) / 4;
  const determinant = bendUp * bendRight - twist ** 2;
  if (!(bendUp < 0 && determinant > 0)) return point;
  const within = (steps: number) => Math.min(Math.max(steps, -1), 1);
  const up = within((twist * slopeRight - bendRight * slopeUp) / determinant);
  const right = within((twist * slopeUp - bendUp * slopeRight) / determinant);
  if (!Number.isFinite(up) || !Number.isFinite(right)) return point;
  return {
    x: point.x + up * (x[1]! - x[0]!),
    lnModulus: point.lnModulus + right * (lnModulus[1]! - lnModulus[0]!),
  };
}
