import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { binQuantity, estimateFrom, momentsOf } from '../../core/inference/quantiles.ts';

/** Of a standard normal: Abramowitz & Stegun, table 26.5 (0.95). */
const Z_95 = 1.644854;
/** Points this far apart are those of a posterior's fine grid. */
const SPACING = 0.28;

/** A standard normal about `middle`, as weights at points of a grid that does not know of it. */
function normalOnGrid(middle: number, spacing = SPACING) {
  const count = 45;
  const perModulus = Float64Array.from({ length: count }, (_, i) => (i - (count - 1) / 2) * spacing);
  const density = perModulus.map((value) => Math.exp(-0.5 * (value - middle) ** 2));
  const total = density.reduce((sum, value) => sum + value, 0);
  const weights = density.map((value) => value / total);
  return { weights, rows: 1, perX: null, perModulus, shift: null, probability: 1 };
}

describe('binQuantity', () => {
  it('finds median and limits of a normal wherever it lies between grid points', () => {
    fc.assert(
      fc.property(fc.double({ min: -SPACING, max: SPACING, noNaN: true }), (middle) => {
        const { value, low, high } = estimateFrom(binQuantity([normalOnGrid(middle)]));
        expect(Math.abs(value - middle)).toBeLessThan(0.005);
        // a cell is a little wider than its point: its own deviation is spacing / sqrt 12
        expect(Math.abs(low - (middle - Z_95))).toBeLessThan(0.015);
        expect(Math.abs(high - (middle + Z_95))).toBeLessThan(0.015);
      }),
    );
  });

  it('keeps the mean, and widens the deviation by that of a cell alone', () => {
    const { mean, sd } = momentsOf(binQuantity([normalOnGrid(0.1)]));
    expect(mean).toBeCloseTo(0.1, 6);
    expect(sd).toBeCloseTo(Math.sqrt(1 + SPACING ** 2 / 12), 3);
  });

  it('shares sum to 1, over posteriors of unlike grids too', () => {
    const parts = [
      { ...normalOnGrid(0), probability: 0.7 },
      { ...normalOnGrid(1, 0.25), probability: 0.3 },
    ];
    const { shares } = binQuantity(parts);
    expect(shares.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 9);
    expect(momentsOf(binQuantity(parts)).mean).toBeCloseTo(0.3, 2);
  });

  it('finds the limits of a normal that comes from uncertain inputs alone', () => {
    const shift = { mean: Float64Array.of(0.3), sd: Float64Array.of(1) };
    const { value, low, high } = estimateFrom(
      binQuantity([
        { weights: Float64Array.of(1), rows: 1, perX: null, perModulus: null, shift, probability: 1 },
      ]),
    );
    expect(value).toBeCloseTo(0.3, 2);
    expect(Math.abs(low - (0.3 - Z_95))).toBeLessThan(0.02);
    expect(Math.abs(high - (0.3 + Z_95))).toBeLessThan(0.02);
  });

  it('is not too narrow for a sum of both axes along a ridge narrower than a cell', () => {
    const count = 45;
    const axis = Float64Array.from({ length: count }, (_, i) => (i - (count - 1) / 2) * SPACING);
    const correlation = -0.995;
    fc.assert(
      fc.property(fc.double({ min: 0, max: SPACING, noNaN: true }), (middle) => {
        const density = Float64Array.from({ length: count ** 2 }, (_, at) => {
          const [a, b] = [axis[Math.floor(at / count)]! - middle, axis[at % count]!];
          return Math.exp((-0.5 * (a * a - 2 * correlation * a * b + b * b)) / (1 - correlation ** 2));
        });
        const total = density.reduce((sum, value) => sum + value, 0);
        const weights = density.map((value) => value / total);
        const { low, high } = estimateFrom(
          binQuantity([{ weights, rows: count, perX: axis, perModulus: axis, shift: null, probability: 1 }]),
        );
        // the sum of two standard normals of this correlation
        expect((high - low) / 2).toBeGreaterThan(Z_95 * Math.sqrt(2 + 2 * correlation));
      }),
    );
  });

  it('holds a quantity that is the same everywhere in one place', () => {
    const part = { ...normalOnGrid(0), perModulus: null };
    expect(estimateFrom(binQuantity([part])).value).toBeCloseTo(0, 12);
  });
});
