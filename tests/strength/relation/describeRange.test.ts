import { describe, expect, it } from 'vitest';
import { fitRelation } from '../../../core/strength/index.ts';
import { distanceFromTests } from '../../../core/strength/relation/describeRange.ts';
import { drawTests, normalDraws } from './drawTests.ts';
import { PLAIN } from './makeRow.ts';

describe('the limit of distance', () => {
  it.each([8, 20])('warns of one in a hundred poles of the tested kind, from %d tests', (count) => {
    const draw = normalDraws(count);
    const withAge = (rows: ReturnType<typeof drawTests>) =>
      // age goes with the modulus in part, so that the axes of the cloud are not those of the predictors
      rows.map((row) => ({ ...row, ageYears: 40 + 20 * Math.log(row.modulusPa! / 11e9) + 3 * draw() }));
    const series = 6000;
    let beyond = 0;
    for (let i = 0; i < series; i++) {
      const [pole, ...tests] = withAge(drawTests(count + 1, draw));
      const { range } = fitRelation(tests, { ...PLAIN, predictors: ['modulus', 'age'] });
      const distance = distanceFromTests(range, [Math.log(pole!.modulusPa!), pole!.ageYears]);
      if (distance > range.distanceLimit!) beyond++;
    }
    // four standard errors of a share of 0.01 over 6000 draws
    expect(Math.abs(beyond / series - 0.01)).toBeLessThan(4 * Math.sqrt((0.01 * 0.99) / series));
  });

  it('is 3.71 for one predictor and 8 tests: sqrt(63/56 F(0.99; 1, 7)), F = t(0.995; 7)^2 = 3.4995^2 (table)', () => {
    const { range } = fitRelation(drawTests(8, normalDraws(1)), PLAIN);
    expect(range.distanceLimit).toBeCloseTo(Math.sqrt(63 / 56) * 3.4995, 3);
  });

  it('is none without predictors, and every pole is at their middle', () => {
    const { range } = fitRelation(drawTests(8, normalDraws(1)), { ...PLAIN, predictors: [] });
    expect(range).toMatchObject({ predictors: [], inverseCovariance: [], distanceLimit: null, poles: 8 });
    expect(distanceFromTests(range, [])).toBe(0);
  });
});
