import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oddsOfCount } from '../../../core/strength/price/oddsOfCount.ts';

describe('oddsOfCount', () => {
  it('is by hand: two events of 0.5 and 0.2', () => {
    // none 0.4, one 0.5, both 0.1
    expect(oddsOfCount([0.5, 0.2], 0)).toBeCloseTo(0.8, 12);
    expect(oddsOfCount([0.5, 0.2], 1)).toBe(1);
    expect(oddsOfCount([0.5, 0.2], 2)).toBeCloseTo(0.2, 12);
  });

  it('does not call one weak pole of fifty a miracle where the chances add up to 0.05', () => {
    // 1 - 0.999^50 = 0.0488
    expect(oddsOfCount(Array(50).fill(0.001), 1)).toBeCloseTo(2 * (1 - 0.999 ** 50), 12);
  });

  it('is nothing where what was sure did not come', () => {
    expect(oddsOfCount([1, 1], 1)).toBe(0);
    expect(oddsOfCount([0, 0], 0)).toBe(1);
  });

  it('goes over to the normal without a step', () => {
    const exact = oddsOfCount(Array(2000).fill(0.1), 225);
    const approximate = oddsOfCount(Array(2001).fill(0.1), 225);
    expect(Math.abs(exact - approximate)).toBeLessThan(5e-3);
  });

  it('is a share', () => {
    const chance = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.array(chance, { minLength: 1, maxLength: 30 }), fc.nat(30), (chances, count) => {
        const odds = oddsOfCount(chances, Math.min(count, chances.length));
        expect(odds).toBeGreaterThanOrEqual(0);
        expect(odds).toBeLessThanOrEqual(1);
      }),
    );
  });
});
