import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lowerTolerance } from '../../../core/strength/distribution/lowerTolerance.ts';
import { quantileOf } from '../../../core/strength/distribution/quantileOf.ts';
import {
  multiplyDistribution,
  type StrengthDistribution,
} from '../../../core/strength/distribution/strengthDistribution.ts';
import { chanceBelow, estimateOf, fromLognormal, medianOf } from '../../../core/strength/index.ts';
import { normalDraws } from '../relation/drawTests.ts';

const ANY_DISTRIBUTION = fc.record({
  scale: fc.constantFrom('log', 'linear') as fc.Arbitrary<'log' | 'linear'>,
  centre: fc.double({ min: 10, max: 20, noNaN: true }),
  normalSd: fc.oneof(fc.constant(0), fc.double({ min: 0.001, max: 1, noNaN: true })),
  studentScale: fc.double({ min: 0.01, max: 1, noNaN: true }),
  degreesOfFreedom: fc.double({ min: 2, max: 200, noNaN: true }),
}) satisfies fc.Arbitrary<StrengthDistribution>;

describe('a strength distribution', () => {
  it('is Student’s t without a normal part: 95 % quantile of 3 degrees of freedom 2.353 (table)', () => {
    const dist = { scale: 'linear', centre: 0, normalSd: 0, studentScale: 2, degreesOfFreedom: 3 } as const;
    expect(quantileOf(dist, 0.95) / 2).toBeCloseTo(2.353363435, 8);
    expect(chanceBelow(dist, 2 * 2.353363435)).toBeCloseTo(0.95, 8);
  });

  it('is normal without a Student part, and all but normal with a million degrees of freedom', () => {
    const normal = fromLognormal({ median: 5, logSd: 0.2 });
    const wide = { ...normal, normalSd: 0.12, studentScale: 0.16, degreesOfFreedom: 1e6 };
    expect(chanceBelow(wide, 4)).toBeCloseTo(chanceBelow(normal, 4), 5);
    expect(medianOf(wide)).toBeCloseTo(5, 12);
  });

  it('has quantiles that its chances give back', () => {
    fc.assert(
      fc.property(ANY_DISTRIBUTION, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (dist, share) => {
        expect(chanceBelow(dist, quantileOf(dist, share))).toBeCloseTo(share, 8);
      }),
      { numRuns: 200 },
    );
  });

  it('has a symmetric interval on its scale that widens with the level', () => {
    fc.assert(
      fc.property(ANY_DISTRIBUTION, (dist) => {
        const [narrow, wide] = [estimateOf(dist, 0.5), estimateOf(dist, 0.95)];
        expect(wide.low).toBeLessThanOrEqual(narrow.low);
        expect(wide.high).toBeGreaterThan(narrow.high);
        expect(chanceBelow(dist, wide.high)).toBeCloseTo(0.975, 8);
      }),
    );
  });

  it('holds what drawn sums of a normal and a t quantity do, times a factor with its own error', () => {
    const draw = normalDraws(7);
    const trials = 40_000;
    const factor = { median: 0.003, logSd: 0.03 };
    for (const scale of ['log', 'linear'] as const) {
      const [centre, size] = scale === 'log' ? [Math.log(50e6), 1] : [50e6, 50e6];
      const dist = { scale, centre, normalSd: 0.05 * size, studentScale: 0.1 * size, degreesOfFreedom: 4 };
      const { low } = estimateOf(multiplyDistribution(dist, factor));
      let below = 0;
      for (let trial = 0; trial < trials; trial++) {
        const chiSquare = draw() ** 2 + draw() ** 2 + draw() ** 2 + draw() ** 2;
        const t = draw() / Math.sqrt(chiSquare / 4);
        const onScale = centre + dist.normalSd * draw() + dist.studentScale * t;
        const value =
          (scale === 'log' ? Math.exp(onScale) : onScale) * factor.median * Math.exp(factor.logSd * draw());
        if (value < low) below++;
      }
      // four standard errors of a share of 0.05 over 40,000 draws
      expect(Math.abs(below / trials - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / trials));
    }
  });

  it('is never stated below 0, and no strength is below it', () => {
    const dist = { scale: 'linear', centre: 10, normalSd: 0, studentScale: 10, degreesOfFreedom: 3 } as const;
    expect(estimateOf(dist).low).toBe(0);
    expect(lowerTolerance(dist, 0.3)).toBe(0);
    expect(chanceBelow(fromLognormal({ median: 10, logSd: 1 }), 0)).toBe(0);
  });
});

describe('lowerTolerance', () => {
  it('is k standard deviations below: k of 10 tests, 75 % confidence, is 2.10367 (table)', () => {
    const dist = {
      scale: 'linear',
      centre: 50,
      normalSd: 0,
      studentScale: 6 * Math.sqrt(1.1),
      degreesOfFreedom: 9,
    } as const;
    expect(lowerTolerance(dist, 0.1)).toBeCloseTo(50 - 6 * 2.10367, 4);
    expect(lowerTolerance({ ...dist, scale: 'log' }, 0.1)).toBeCloseTo(Math.exp(50 - 6 * 2.10367), -12);
  });

  it('keeps its promise over repeated series: at least 95 % are stronger, in 75 of 100 series', () => {
    const draw = normalDraws(11);
    const series = 4000;
    const n = 8;
    const Z95 = 1.6448536;
    let kept = 0;
    for (let i = 0; i < series; i++) {
      const values = Array.from({ length: n }, draw);
      const mean = values.reduce((sum, v) => sum + v, 0) / n;
      const s = Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (n - 1));
      const dist = {
        scale: 'log',
        centre: mean,
        normalSd: 0,
        studentScale: s * Math.sqrt(1 + 1 / n),
        degreesOfFreedom: n - 1,
      } as const;
      if (Math.log(lowerTolerance(dist, 1 / n)) < -Z95) kept++;
    }
    expect(Math.abs(kept / series - 0.75)).toBeLessThan(4 * Math.sqrt((0.75 * 0.25) / series));
  });
});
