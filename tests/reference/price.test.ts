/**
 * Prices of thresholds against SciPy (Virtanen et al. 2020, Nature Methods 17:261-272), asked at test time: exact binomial limits by
 * scipy.stats.beta, the area under a receiver operating curve by scipy.stats.mannwhitneyu over the number of pairs (ties
 * count half), the value of a second visit by bivariate normal probabilities of scipy.stats.multivariate_normal.
 */
import normal from '@stdlib/stats-base-dists-normal';
import { describe, expect, test } from 'vitest';
import { computeRoc, valueOfSecondVisit } from '../../core/strength/index.ts';
import { exactShare } from '../../core/strength/price/exactShare.ts';
import { parkMiller } from '../../core/strength/price/parkMiller.ts';
import { askScipy, hasScipy } from './askScipy.ts';

const SCRIPT = './priceReference.py';
const available = hasScipy();
if (!available)
  console.warn(
    'SKIPPED: no SciPy at /usr/bin/python3, so prices were not held against it (apt-get install python3-scipy).',
  );

const ask = (jobs: readonly object[]) => askScipy({ jobs }, SCRIPT).results;

/** Chances rounded to a tenth so that many tie, of weak poles higher by a bit. */
function drawSeries(seed: number, weak: number, sound: number) {
  const draw = parkMiller(seed);
  const chance = (shift: number) => Math.round((draw() / 2 ** 31) * 7 + shift) / 10;
  return {
    weak: Array.from({ length: weak }, () => chance(3)),
    sound: Array.from({ length: sound }, () => chance(0)),
  };
}

describe.skipIf(!available)('against SciPy', () => {
  test('exact limits of a share', () => {
    const cases = [0, 1, 2, 5, 9, 10].flatMap((count) =>
      [10, 60, 400].flatMap((trials) => [0.9, 0.95].map((level) => ({ count, trials, level }))),
    );
    const limits = ask(cases.map((one) => ({ kind: 'exact', ...one })));
    cases.forEach(({ count, trials, level }, i) => {
      const { low, high } = exactShare(count, trials, level)!;
      expect(low).toBeCloseTo(limits[i]!.limits![0]!, 10);
      expect(high).toBeCloseTo(limits[i]!.limits![1]!, 10);
    });
  });

  test('area under the curve, with ties', () => {
    const series = [
      [1, 3, 5],
      [2, 10, 50],
      [3, 40, 40],
      [4, 1, 200],
    ].map(([seed, weak, sound]) => drawSeries(seed!, weak!, sound!));
    const areas = ask(series.map((one) => ({ kind: 'area', ...one })));
    series.forEach(({ weak, sound }, i) => {
      const tests = [
        ...weak.map((chanceBelow, n) => ({ poleId: `w${n}`, chanceBelow, isWeak: true })),
        ...sound.map((chanceBelow, n) => ({ poleId: `s${n}`, chanceBelow, isWeak: false })),
      ];
      expect(computeRoc(tests, { resamples: 100 })!.area).toBeCloseTo(areas[i]!.area![0]!, 12);
    });
  });

  test('value of a second visit where capacity is lognormal', () => {
    const costs = { missedWeak: 20, needlessReplacement: 1 };
    const cases = [
      { gap: -0.35, sd: 0.25, measurementSd: 0.1, visitErrorSd: 0.1 },
      { gap: -0.5, sd: 0.3, measurementSd: 0.29, visitErrorSd: 0.05 },
      { gap: 0.1, sd: 0.2, measurementSd: 0.15, visitErrorSd: 0.4 },
      { gap: -0.3, sd: 0.15, measurementSd: 0.15, visitErrorSd: 0.01 },
    ];
    const turnZ = normal.quantile(1 / 21, 0, 1);
    const parts = cases.map(({ gap, sd, measurementSd, visitErrorSd }) => {
      const shiftSd = measurementSd ** 2 / Math.hypot(measurementSd, visitErrorSd);
      const turn = gap - Math.sqrt(sd ** 2 - shiftSd ** 2) * turnZ;
      return { x: gap / sd, y: turn / shiftSd, correlation: shiftSd / sd };
    });
    const chances = ask(parts.map((part) => ({ kind: 'bivariate', ...part })));
    cases.forEach(({ gap, sd, measurementSd, visitErrorSd }, i) => {
      const { x, y } = parts[i]!;
      const both = chances[i]!.chance![0]!;
      const costAfter = 20 * (normal.cdf(x, 0, 1) - both) + (normal.cdf(y, 0, 1) - both);
      const capacity = {
        scale: 'log' as const,
        centre: Math.log(5e4) - gap,
        normalSd: sd,
        studentScale: 0,
        degreesOfFreedom: Number.POSITIVE_INFINITY,
      };
      const [visit] = valueOfSecondVisit(
        [{ poleId: 'p', capacity, measurementSd, visitErrorSd, limit: 5e4 }],
        costs,
      );
      expect(visit!.costAfter).toBeCloseTo(costAfter, 7);
      expect(visit!.value).toBeCloseTo(visit!.costNow - costAfter, 7);
      expect(visit!.value).toBeGreaterThan(0);
    });
  });
});
