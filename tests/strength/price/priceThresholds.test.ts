import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type JudgedTest, priceThresholds } from '../../../core/strength/index.ts';
import { parkMiller } from '../../../core/strength/price/parkMiller.ts';

const COSTS = { missedWeak: 10, needlessReplacement: 1 };

function makeTests(chances: readonly number[], weak: readonly number[]): JudgedTest[] {
  return chances.map((chanceBelow, i) => ({ poleId: `P${i}`, chanceBelow, isWeak: weak.includes(i) }));
}

/** Five poles, the second and the fifth weak. */
const FIVE = makeTests([0.1, 0.2, 0.4, 0.4, 0.9], [1, 4]);

const anyTests = fc.array(
  fc.record({
    poleId: fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f', 'g'),
    chanceBelow: fc.double({ min: 0, max: 1, noNaN: true }),
    isWeak: fc.boolean(),
  }),
  { minLength: 1, maxLength: 25 },
);

describe('parkMiller', () => {
  it('has the check value of Park and Miller 1988: from seed 1 the 10,000th number is 1043618065', () => {
    const draw = parkMiller(1);
    let value = 0;
    for (let i = 0; i < 10_000; i++) value = draw();
    expect(value).toBe(1_043_618_065);
  });
});

describe('priceThresholds', () => {
  it('counts and prices five poles as by hand', () => {
    const { prices, best, weak, shareWeak, thresholdByCosts } = priceThresholds(FIVE, COSTS);
    // replace all; from 0.15; from 0.3; from 0.65; none
    expect(prices.map(({ threshold }) => threshold && Number(threshold.toFixed(6)))).toEqual([
      0,
      0.15,
      0.3,
      0.65,
      null,
    ]);
    // each as far as the least chance that is replaced
    expect(prices.map(({ above }) => above)).toEqual([null, 0.1, 0.2, 0.4, 0.9]);
    expect(prices.map(({ highest }) => highest)).toEqual([0.1, 0.2, 0.4, 0.9, null]);
    expect(prices.map(({ missed }) => missed.count)).toEqual([0, 0, 1, 1, 2]);
    expect(prices.map(({ needless }) => needless.count)).toEqual([3, 2, 2, 0, 0]);
    expect(prices.map(({ cost }) => Number(cost.value.toFixed(9)))).toEqual([0.6, 0.4, 2.4, 2, 4]);
    expect(best).toMatchObject({ cost: 0.4 });
    expect(best!.threshold).toBeCloseTo(0.15, 12);
    expect([weak, shareWeak]).toEqual([2, 0.4]);
    expect(thresholdByCosts).toBeCloseTo(1 / 11, 12);
  });

  it('carries the costs over to another share of weak poles', () => {
    const { prices, shareWeak } = priceThresholds(FIVE, COSTS, { shareWeak: 0.1 });
    // 0.1 x missed / 2 x 10 + 0.9 x needless / 3 x 1
    expect(prices.map(({ cost }) => Number(cost.value.toFixed(9)))).toEqual([0.9, 0.6, 1.1, 0.5, 1]);
    expect(shareWeak).toBe(0.1);
  });

  it('says how few weak poles there are and how many could be missed: 0 of 2 leaves up to 84 %', () => {
    const { statements } = priceThresholds(FIVE, COSTS);
    // 1 - 0.025^(1/2) = 0.8419
    expect(statements.join(' ')).toMatch(
      /Only 2 of 5 tests are weak, fewer than 10\. .* up to 84 % of weak poles missed/,
    );
  });

  it('says that limits hold for a threshold set beforehand', () => {
    expect(priceThresholds(FIVE, COSTS).statements.at(-1)).toContain('set beforehand');
  });

  it('names no best threshold and warns where only one kind was tested', () => {
    const sound = priceThresholds(makeTests([0.1, 0.3], []), COSTS);
    expect(sound.best).toBeNull();
    expect(sound.prices.every(({ missedShare }) => missedShare === null)).toBe(true);
    expect(sound.statements.join(' ')).toContain('None of 2 tests is weak: nothing can be said');
    const weak = priceThresholds(makeTests([0.1, 0.3], [0, 1]), COSTS);
    expect(weak.best).toBeNull();
    expect(() => priceThresholds(makeTests([0.1], []), COSTS, { shareWeak: 0.1 })).toThrow(
      /0 of 1 tests are weak: with one kind only/,
    );
  });

  it('says when the chances saw the tests, and when they do not add up', () => {
    const tests = makeTests(Array(20).fill(0.02), [0, 1, 2, 3, 4, 5]);
    const { statements } = priceThresholds(tests, COSTS, { sawTheTests: true });
    expect(statements[0]).toContain('fitted to these same tests');
    expect(statements.join(' ')).toMatch(/add up to 0\.4 weak poles and 6 were.*less than 0\.1 %.*too low/);
  });

  it('leaves exact shares out where a pole was tested twice', () => {
    const twice = FIVE.map((test) => ({ ...test, poleId: 'same' }));
    const { prices, poles, statements } = priceThresholds(twice, COSTS);
    expect(poles).toBe(1);
    expect(prices.every((price) => price.missedShare === null && price.cost.interval === null)).toBe(true);
    expect(statements.join(' ')).toContain('tested more than once');
  });

  it('draws whole poles: one pole tested five times has no spread', () => {
    const twice = FIVE.map((test) => ({ ...test, poleId: 'same' }));
    for (const { cost } of priceThresholds(twice, COSTS).prices) {
      expect(cost.bootstrap!.low).toBeCloseTo(cost.value, 12);
      expect(cost.bootstrap!.high).toBeCloseTo(cost.value, 12);
    }
  });

  it('has bootstrap intervals of a count near the binomial’s: 30 of 60 within 1.96 x 3.87', () => {
    const tests = makeTests(
      Array.from({ length: 60 }, () => 0.5),
      Array.from({ length: 30 }, (_, i) => i),
    );
    const { missed } = priceThresholds(tests, COSTS, { resamples: 4000 }).prices.at(-1)!;
    expect(missed.count).toBe(30);
    // 2.5 and 97.5 % of binomial(60, 0.5): 22 and 38 (scipy.stats.binom.ppf); a step to either side for drawing
    expect(Math.abs(missed.low - 22)).toBeLessThanOrEqual(1);
    expect(Math.abs(missed.high - 38)).toBeLessThanOrEqual(1);
  });

  it('gives the same answer for the same seed, and another for another', () => {
    const tests = makeTests(
      Array.from({ length: 40 }, (_, i) => ((i * 17) % 40) / 40),
      [3, 8, 15, 22, 31, 32, 33, 34, 36, 38, 39],
    );
    const of = (seed: number) => priceThresholds(tests, COSTS, { seed });
    expect(of(7)).toEqual(of(7));
    expect(of(8)).not.toEqual(of(7));
  });

  it('adds back what choosing by the same tests flatters: chances that say nothing', () => {
    const draw = parkMiller(5);
    const tests = Array.from({ length: 40 }, (_, i) => ({
      poleId: `P${i}`,
      chanceBelow: draw() / 2 ** 31,
      isWeak: i % 2 === 0,
    }));
    const { best } = priceThresholds(tests, { missedWeak: 1, needlessReplacement: 1 });
    expect(best!.cost).toBeLessThan(0.5);
    expect(best!.correctedCost).toBeGreaterThan(best!.cost);
  });

  it('thins a long list of thresholds and keeps both ends', () => {
    const tests = makeTests(
      Array.from({ length: 1000 }, (_, i) => i / 1000),
      [999],
    );
    const { prices } = priceThresholds(tests, COSTS, { resamples: 100 });
    expect(prices).toHaveLength(201);
    expect([prices[0]!.threshold, prices.at(-1)!.threshold]).toEqual([0, null]);
    // what parts the tests so reaches from one chance to the next, not from one price to the next
    expect(prices[1]).toMatchObject({ above: 0.004, highest: 0.005 });
  });

  it('refuses what cannot be priced', () => {
    expect(() => priceThresholds([], COSTS)).toThrow(/0 break tests/);
    expect(() => priceThresholds(makeTests([Number.NaN], []), COSTS)).toThrow(/a chance of NaN/);
    expect(() => priceThresholds(makeTests([1.1], []), COSTS)).toThrow(/a chance of 1.1/);
    expect(() => priceThresholds(FIVE, { ...COSTS, missedWeak: 0 })).toThrow(/Cost missedWeak: 0/);
    expect(() => priceThresholds(FIVE, COSTS, { resamples: 1e9 })).toThrow(/resamples: 1000000000/);
    expect(() => priceThresholds(FIVE, COSTS, { shareWeak: 1 })).toThrow(/shareWeak: 1/);
    expect(() => priceThresholds(FIVE, COSTS, { seed: 1.5 })).toThrow(/seed: 1.5/);
  });

  it('misses more and replaces less as the threshold rises; every interval holds a share that was seen', () => {
    fc.assert(
      fc.property(anyTests, (tests) => {
        const { prices } = priceThresholds(tests, COSTS, { resamples: 100 });
        for (let i = 1; i < prices.length; i++) {
          expect(prices[i]!.missed.count).toBeGreaterThanOrEqual(prices[i - 1]!.missed.count);
          expect(prices[i]!.needless.count).toBeLessThanOrEqual(prices[i - 1]!.needless.count);
        }
        for (const { missedShare } of prices) {
          if (missedShare === null) continue;
          expect(missedShare.low).toBeLessThanOrEqual(missedShare.value);
          expect(missedShare.high).toBeGreaterThanOrEqual(missedShare.value);
        }
        expect(prices[0]!.missed.count + prices.at(-1)!.needless.count).toBe(0);
        expect(JSON.parse(JSON.stringify(prices))).toEqual(prices);
      }),
    );
  });
});
