import normal from '@stdlib/stats-base-dists-normal';
import { describe, expect, it } from 'vitest';
import { computeRoc } from '../../../core/strength/index.ts';
import { areaInterval } from '../../../core/strength/price/areaInterval.ts';
import { parkMiller } from '../../../core/strength/price/parkMiller.ts';

function makeTests(weak: readonly number[], sound: readonly number[]) {
  return [
    ...weak.map((chanceBelow, i) => ({ poleId: `w${i}`, chanceBelow, isWeak: true })),
    ...sound.map((chanceBelow, i) => ({ poleId: `s${i}`, chanceBelow, isWeak: false })),
  ];
}

describe('computeRoc', () => {
  it('has 4 of 6 pairs in order, counted by hand, and the corners of its steps', () => {
    // 0.6 beats 0.2 and 0.4 and ties 0.6: 2.5; 0.4 beats 0.2, ties 0.4, loses to 0.6: 1.5
    const roc = computeRoc(makeTests([0.6, 0.4], [0.2, 0.4, 0.6]))!;
    expect(roc.area).toBeCloseTo(4 / 6, 12);
    expect(roc.points.map(({ needlessShare, caughtShare }) => [needlessShare * 3, caughtShare])).toEqual([
      [0, 0],
      [1, 0.5],
      [2, 1],
      [3, 1],
    ]);
    expect(roc.points[0]!.threshold).toBeNull();
    expect(roc.points.at(-1)!.threshold).toBe(0);
  });

  it('is the area under its own corners by the trapezium rule', () => {
    const { points, area } = computeRoc(makeTests([0.9, 0.5, 0.5, 0.3], [0.1, 0.3, 0.5, 0.2, 0.95]))!;
    let under = 0;
    for (let i = 1; i < points.length; i++) {
      const [a, b] = [points[i - 1]!, points[i]!];
      under += ((b.needlessShare - a.needlessShare) * (a.caughtShare + b.caughtShare)) / 2;
    }
    expect(area).toBeCloseTo(under, 12);
  });

  it('keeps a width where the tests part perfectly, and says that the bootstrap has none', () => {
    const roc = computeRoc(makeTests([0.8, 0.9, 0.7], [0.1, 0.2, 0.3, 0.4]))!;
    expect(roc.area).toBe(1);
    expect([roc.bootstrap!.low, roc.bootstrap!.high]).toEqual([1, 1]);
    expect(roc.interval!.low).toBeLessThan(0.8);
    expect(roc.interval!.high).toBeCloseTo(1, 12);
    expect(roc.statements.join(' ')).toMatch(/part perfectly.*3 weak and 4 sound tests/);
  });

  it('is not there where only one kind was tested', () => {
    expect(computeRoc(makeTests([0.8], []))).toBeNull();
    expect(computeRoc(makeTests([], [0.1]))).toBeNull();
    expect(() => computeRoc([])).toThrow(/0 break tests/);
  });

  it('has no analytic interval where a pole was tested twice', () => {
    const tests = makeTests([0.8, 0.3], [0.1, 0.6]).map((test) => ({
      ...test,
      poleId: test.isWeak ? 'w' : test.poleId,
    }));
    expect(computeRoc(tests)!.interval).toBeNull();
  });
});

describe('areaInterval', () => {
  /** Two normal populations a given distance apart: area Phi(distance / sqrt 2). */
  const SERIES = 1500;
  const LEVEL = 0.95;

  it.each([
    { distance: 0.8, weak: 5, sound: 55 },
    { distance: 1.5, weak: 10, sound: 50 },
    { distance: 2.5, weak: 15, sound: 45 },
  ])(
    'holds the true area in 95 % of series: $weak weak, $sound sound, $distance apart',
    ({ distance, weak, sound }) => {
      const truth = normal.cdf(distance / Math.SQRT2, 0, 1);
      const draw = parkMiller(42);
      const gauss = () => normal.quantile(draw() / 2 ** 31, 0, 1);
      let held = 0;
      for (let series = 0; series < SERIES; series++) {
        const w = Array.from({ length: weak }, () => gauss() + distance);
        const s = Array.from({ length: sound }, gauss);
        const area = w.reduce((sum, x) => sum + s.filter((y) => y < x).length, 0) / (weak * sound);
        const { low, high } = areaInterval(area, weak, sound, LEVEL);
        if (low <= truth && truth <= high) held++;
      }
      // Monte Carlo: 3 sqrt(0.95 x 0.05 / 1500) = 1.7 %; the method itself is within 1.5 % (Newcombe 2006, from memory)
      expect(held / SERIES).toBeGreaterThan(LEVEL - 0.032);
    },
  );
});
