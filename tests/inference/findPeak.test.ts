import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findPeak } from '../../core/inference/findPeak.ts';

const AXIS = Float64Array.from({ length: 21 }, (_, i) => (i - 10) * 0.3);

/** A normal of two variables with a correlation, at the points of a grid that does not know of it. */
function normalOnGrid(x: number, lnModulus: number, correlation: number) {
  const weights = new Float64Array(AXIS.length ** 2);
  for (const [i, up] of AXIS.entries()) {
    for (const [j, right] of AXIS.entries()) {
      const [a, b] = [up - x, right - lnModulus];
      const square = (a * a - 2 * correlation * a * b + b * b) / (1 - correlation ** 2);
      weights[i * AXIS.length + j] = Math.exp(-0.5 * square);
    }
  }
  return { x: AXIS, lnModulus: AXIS, weights, logEvidence: 0, oddChances: new Float64Array() };
}

describe('findPeak', () => {
  it('finds the middle of a normal between grid points', () => {
    const place = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        place,
        place,
        fc.double({ min: -0.8, max: 0.8, noNaN: true }),
        (x, lnModulus, correlation) => {
          const peak = findPeak(normalOnGrid(x, lnModulus, correlation));
          expect(peak.x).toBeCloseTo(x, 6);
          expect(peak.lnModulus).toBeCloseTo(lnModulus, 6);
        },
      ),
    );
  });

  it('stays at the grid point at an edge, beside nothing and on a ridge without a top', () => {
    expect(findPeak(normalOnGrid(-5, 0, 0)).x).toBe(AXIS[0]);
    const lone = { ...normalOnGrid(0, 0, 0), weights: new Float64Array(AXIS.length ** 2) };
    lone.weights[10 * AXIS.length + 10] = 1;
    expect(findPeak(lone)).toEqual({ x: AXIS[10], lnModulus: AXIS[10] });
    const flat = { ...lone, weights: lone.weights.map(() => 1) };
    expect(findPeak(flat)).toEqual({ x: AXIS[0], lnModulus: AXIS[0] });
  });
});
