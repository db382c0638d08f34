import normal from '@stdlib/stats-base-dists-normal';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type VisitedPole, valueOfSecondVisit } from '../../../core/strength/index.ts';
import { parkMiller } from '../../../core/strength/price/parkMiller.ts';

const COSTS = { missedWeak: 20, needlessReplacement: 1 };

function makePole(changes: Partial<VisitedPole> = {}, normalSd = 0.25, median = 7e4): VisitedPole {
  return {
    poleId: 'P',
    capacity: {
      scale: 'log',
      centre: Math.log(median),
      normalSd,
      studentScale: 0,
      degreesOfFreedom: Number.POSITIVE_INFINITY,
    },
    measurementSd: 0.15,
    limit: 5e4,
    ...changes,
  };
}

const value = (pole: VisitedPole, costs = COSTS) => valueOfSecondVisit([pole], costs)[0]!;

describe('valueOfSecondVisit', () => {
  it('states what the decision now costs: min(p 20, 1 - p)', () => {
    const chance = normal.cdf(Math.log(5 / 7) / 0.25, 0, 1);
    const now = value(makePole());
    expect(now.chanceBelow).toBeCloseTo(chance, 12);
    expect(now.costNow).toBeCloseTo(Math.min(20 * chance, 1 - chance), 12);
    expect(now.action).toBe(20 * chance > 1 - chance ? 'replace' : 'keep');
    expect(now.perfectValue).toBe(now.costNow);
  });

  it('is nothing where the stem is known exactly: only its part of the spread can be narrowed', () => {
    expect(value(makePole({ measurementSd: 0 }))).toMatchObject({ value: 0, chanceOfChange: 0 });
  });

  it('comes near to perfect knowledge where measurement is all of the spread and the visit is exact', () => {
    const perfect = value(makePole({ measurementSd: 0.25, visitErrorSd: 1e-6 }));
    expect(perfect.value / perfect.perfectValue).toBeCloseTo(1, 4);
  });

  it('is nearly nothing where no result could turn the decision', () => {
    const far = value(makePole({ measurementSd: 0.05 }, 0.1, 2e5));
    expect(far.value).toBeLessThan(1e-9);
    expect(far.chanceOfChange).toBeLessThan(1e-9);
  });

  it('agrees with playing it through: draw the stem, the visit and the pole, decide, pay', () => {
    const pole = makePole();
    const [m, v, scatter] = [0.15, 0.15, Math.sqrt(0.25 ** 2 - 0.15 ** 2)];
    const draw = parkMiller(11);
    const gauss = () => normal.quantile(draw() / 2 ** 31, 0, 1);
    const games = 60_000;
    const remaining = Math.sqrt(scatter ** 2 + (m ** 2 * v ** 2) / (m ** 2 + v ** 2));
    const costs: number[] = [];
    for (let game = 0; game < games; game++) {
      const stem = m * gauss();
      const read = stem + v * gauss();
      const capacity = Math.log(7e4) + stem + scatter * gauss();
      const centre = Math.log(7e4) + (read * m ** 2) / (m ** 2 + v ** 2);
      const chance = normal.cdf((Math.log(5e4) - centre) / remaining, 0, 1);
      const isWeak = capacity < Math.log(5e4);
      if (chance * 20 < 1 - chance) costs.push(isWeak ? 20 : 0);
      else costs.push(isWeak ? 0 : 1);
    }
    const mean = costs.reduce((sum, cost) => sum + cost, 0) / games;
    const sd = Math.sqrt(costs.reduce((sum, cost) => sum + (cost - mean) ** 2, 0) / games);
    // four standard errors of the games
    expect(Math.abs(value(pole).costAfter - mean)).toBeLessThan((4 * sd) / Math.sqrt(games));
  });

  it('keeps heavy tails: with 4 degrees of freedom the chances still average to the chance now', () => {
    const base = makePole();
    const capacity = { ...base.capacity, studentScale: 0.15, degreesOfFreedom: 4 };
    const heavy = value({ ...base, capacity });
    expect(heavy.value).toBeGreaterThan(0);
    expect(heavy.value).toBeLessThan(heavy.perfectValue);
    // costs so lopsided that both decisions stay what they are: cost after = cost now
    const lopsided = value({ ...base, capacity }, { missedWeak: 1e6, needlessReplacement: 1e-6 });
    expect(lopsided.costAfter / lopsided.costNow).toBeCloseTo(1, 6);
  });

  it('takes the measurement’s part out of a Student part, as a relation carries it', () => {
    const capacity = { ...makePole().capacity, normalSd: 0, studentScale: 0.25, degreesOfFreedom: 1e6 };
    // with many tests it is the normal case
    const student = value(makePole({ capacity }));
    const plain = value(makePole());
    expect(student.value).toBeCloseTo(plain.value, 5);
    expect(student.costNow).toBeCloseTo(plain.costNow, 5);
    const few = value(makePole({ capacity: { ...capacity, degreesOfFreedom: 12 } }));
    expect(few.value).toBeGreaterThan(0);
    expect(few.value).toBeLessThan(few.perfectValue);
  });

  it('is never negative, never above perfect knowledge, and no less for a better visit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e4, max: 3e5, noNaN: true }),
        fc.double({ min: 0.02, max: 0.6, noNaN: true }),
        fc.double({ min: 0.05, max: 1, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 0.1, max: 200, noNaN: true }),
        (median, sd, share, visitErrorSd, missedWeak) => {
          const costs = { missedWeak, needlessReplacement: 1 };
          const pole = makePole({ measurementSd: sd * share, visitErrorSd }, sd, median);
          const plain = value(pole, costs);
          const better = value({ ...pole, visitErrorSd: visitErrorSd / 2 }, costs);
          expect(plain.value).toBeGreaterThanOrEqual(0);
          expect(plain.value).toBeLessThanOrEqual(plain.perfectValue + 1e-9);
          expect(better.value).toBeGreaterThanOrEqual(plain.value - 1e-7);
        },
      ),
    );
  });

  it('refuses figures that make no sense', () => {
    expect(() => value(makePole({ measurementSd: 0.3 }))).toThrow(
      /Pole P: the measurement's part 0.3 of a spread of 0.25/,
    );
    expect(() => value(makePole({ visitErrorSd: 0 }))).toThrow(/error of the second visit of 0/);
    expect(() => value(makePole({ limit: Number.NaN }))).toThrow(/limit of NaN/);
    expect(() => value(makePole(), { missedWeak: -1, needlessReplacement: 1 })).toThrow(
      /Cost missedWeak: -1/,
    );
  });
});
