import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BreakTestRow,
  compareRelations,
  fitRelation,
  judgeRelation,
  learningCurve,
  leaveOneOut,
  type RelationSpec,
} from '../../../core/strength/index.ts';
import { diagnoseTests } from '../../../core/strength/judging/diagnoseTests.ts';
import { foldPoles } from '../../../core/strength/judging/foldPoles.ts';
import { forecastTests, spreadOfDeviation } from '../../../core/strength/judging/forecastTests.ts';
import { predictHeldOut } from '../../../core/strength/judging/predictHeldOut.ts';
import { scorePredictions } from '../../../core/strength/judging/scorePredictions.ts';
import { drawTests, normalDraws } from '../relation/drawTests.ts';
import { makeRow, PLAIN } from '../relation/makeRow.ts';

function withSpecies(rows: readonly BreakTestRow[]): BreakTestRow[] {
  return rows.map((row, i) => ({ ...row, species: i % 2 ? 'red-pine' : 'douglas-fir', weight: 1 + (i % 3) }));
}

describe('leaveOneOut', () => {
  const specs: readonly RelationSpec[] = [
    PLAIN,
    { ...PLAIN, form: 'linear' },
    { ...PLAIN, species: 'fixed' },
    { ...PLAIN, species: 'fixed', estimator: 'weighted' },
  ];

  it.each(specs)('in closed form is what fitting without each pole gives: %o', (spec) => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 9, max: 25 }), (seed, count) => {
        const rows = withSpecies(drawTests(count, normalDraws(seed)));
        const closed = leaveOneOut(fitRelation(rows, spec));
        const refitted = predictHeldOut(
          rows,
          spec,
          rows.map((_, i) => i),
        );
        const unit = spec.form === 'linear' ? 1e6 : 1;
        for (const [i, { strengthPa }] of closed.entries()) {
          const other = refitted[i]!.strengthPa!;
          expect(strengthPa!.centre / unit).toBeCloseTo(other.centre / unit, 9);
          expect(strengthPa!.studentScale / unit).toBeCloseTo(other.studentScale / unit, 9);
          expect(strengthPa!.degreesOfFreedom).toBe(other.degreesOfFreedom);
        }
      }),
      { numRuns: 15 },
    );
  });

  it('leaves out all tests of a pole together', () => {
    const rows = drawTests(12, normalDraws(2));
    const twice = [...rows, { ...rows[0]!, id: 'again' }];
    const held = leaveOneOut(fitRelation(twice, PLAIN));
    const alone = predictHeldOut(twice, PLAIN, [...rows.map((_, i) => i), 0]);
    expect(held).toEqual(alone);
    // had its twin stayed in, the prediction would know the answer in part
    expect(held[0]!.strengthPa).toEqual(held[12]!.strengthPa);
  });

  it('predicts nothing of the only pole of a species', () => {
    const rows = drawTests(10, normalDraws(2));
    const lone = [{ ...rows[0]!, species: 'western-redcedar' as const }, ...rows.slice(1)];
    const [first, ...others] = leaveOneOut(fitRelation(lone, { ...PLAIN, species: 'fixed' }));
    expect(first).toMatchObject({ strengthPa: null, withheldBecause: expect.stringContaining('alone') });
    expect(others.every(({ strengthPa }) => strengthPa !== null)).toBe(true);
  });
});

describe('foldPoles', () => {
  it('keeps tests of a pole together, in folds of one size or one more, the same for the same seed', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 40 }), fc.integer({ min: 2, max: 12 }), (poles, folds) => {
        const rows = Array.from({ length: 2 * poles }, (_, i) =>
          makeRow(`${i}`, { poleId: `p${i % poles}` }),
        );
        const dealt = foldPoles(rows, folds, 3);
        expect(dealt.slice(0, poles)).toEqual(dealt.slice(poles));
        const sizes = Map.groupBy(dealt, (fold) => fold);
        expect(sizes.size).toBe(Math.min(folds, poles));
        const counts = [...sizes.values()].map(({ length }) => length);
        expect(Math.max(...counts) - Math.min(...counts)).toBeLessThanOrEqual(2);
        expect(foldPoles(rows, folds, 3)).toEqual(dealt);
      }),
    );
  });
});

describe('scorePredictions', () => {
  it('matches the hand calculation', () => {
    const predicted = (id: string, measuredPa: number, mpa: number | null) => ({
      id,
      poleId: id,
      measuredPa,
      strengthPa:
        mpa === null
          ? null
          : {
              scale: 'linear' as const,
              centre: mpa * 1e6,
              normalSd: 2e6,
              studentScale: 0,
              degreesOfFreedom: 9,
            },
      withheldBecause: null,
    });
    // 10 % too high and outside (5 MPa of 1.645 x 2 allowed), 5 % too low, exact
    const tests = [
      predicted('a', 50e6, 55),
      predicted('b', 40e6, 38),
      predicted('c', 60e6, 60),
      predicted('d', 60e6, null),
    ];
    const score = scorePredictions(tests);
    expect(score).toMatchObject({ predicted: 3, withheld: 1 });
    expect(score.rootMeanSquareShare).toBeCloseTo(Math.sqrt((0.01 + 0.0025) / 3), 12);
    expect(score.biasShare).toBeCloseTo(0.05 / 3, 12);
    expect(score.insideInterval).toBeCloseTo(2 / 3, 12);
    expect(score.aboveLower).toBeCloseTo(2 / 3, 12);
  });

  it('has no figures of nothing', () => {
    expect(scorePredictions([]).rootMeanSquareShare).toBeNaN();
  });
});

describe('diagnoseTests', () => {
  const rows = drawTests(20, normalDraws(31));
  const fit = fitRelation(rows, PLAIN);
  const { tests, limits } = diagnoseTests(fit);

  it('has residuals studentised by the fit without the test, by fitting without it', () => {
    const held = predictHeldOut(
      rows,
      PLAIN,
      rows.map((_, i) => i),
    );
    for (const [i, { studentisedResidual }] of tests.entries()) {
      const { centre, studentScale } = held[i]!.strengthPa!;
      expect(studentisedResidual).toBeCloseTo((fit.tests[i]!.response - centre) / studentScale, 9);
    }
  });

  it('has Cook’s distance as the move of all fitted values, by fitting without it', () => {
    for (const [i, { cooksDistance }] of tests.entries()) {
      const { coefficients } = fitRelation(
        rows.filter((_, j) => j !== i),
        PLAIN,
      ).relation;
      const moved = fit.tests.reduce(
        (sum, { fitted, values }) => sum + (fitted - coefficients[0]! - coefficients[1]! * values[0]!) ** 2,
        0,
      );
      expect(cooksDistance).toBeCloseTo(moved / (2 * fit.relation.residualScale ** 2), 9);
    }
  });

  it('has leverages that sum to the coefficients and follow from the distance', () => {
    expect(tests.reduce((sum, { leverage }) => sum + leverage, 0)).toBeCloseTo(2, 12);
    for (const { leverage, distance } of tests) expect(leverage).toBeCloseTo(1 / 20 + distance ** 2 / 19, 9);
    expect(limits.leverage).toBeCloseTo(0.2, 12);
    expect(limits.cooksDistance).toBeCloseTo(0.2, 12);
  });

  it('sets normal quantiles by rank, symmetric about 0', () => {
    const byResidual = tests.toSorted((a, b) => a.studentisedResidual - b.studentisedResidual);
    const quantiles = byResidual.map(({ normalQuantile }) => normalQuantile);
    expect(quantiles).toEqual(quantiles.toSorted((a, b) => a - b));
    expect(quantiles[0]! + quantiles.at(-1)!).toBeCloseTo(0, 12);
    // Phi^-1((1 - 3/8) / 20.25)
    expect(quantiles[0]).toBeCloseTo(-1.8682, 3);
  });
});

describe('judgeRelation', () => {
  it('says of the mean of the tests that it explains nothing of them', () => {
    const tests = drawTests(40, normalDraws(3));
    expect(judgeRelation(fitRelation(tests, { ...PLAIN, predictors: [] })).rSquared).toBe(0);
  });

  it('says more of the fit than of what it foretells, and counts all poles', () => {
    const fit = fitRelation(drawTests(40, normalDraws(3)), PLAIN);
    const judged = judgeRelation(fit);
    expect(judged).toMatchObject({ tests: 40, poles: 40, effectiveTerms: expect.closeTo(2, 9) });
    expect(judged.rSquared).toBeGreaterThan(judged.adjustedRSquared);
    expect(judged.adjustedRSquared).toBeCloseTo(1 - (1 - judged.rSquared) * (39 / 38), 12);
    const within = Math.sqrt(
      fit.tests.reduce((sum, { residual }) => sum + Math.expm1(-residual) ** 2, 0) / fit.tests.length,
    );
    expect(judged.leaveOneOut.rootMeanSquareShare).toBeGreaterThan(within);
    expect(judged.folds).toMatchObject({ folds: 10, predicted: 40, withheld: 0 });
  });

  it('sees through predictors that are chance: the fit looks better, the foretelling worse', () => {
    const draw = normalDraws(17);
    const rows = drawTests(16, draw).map((row) => ({
      ...row,
      ageYears: 20 + draw(),
      moisturePercent: 20 + draw(),
      fixity: Math.exp(draw()),
    }));
    const [honest, padded] = [
      PLAIN,
      { ...PLAIN, predictors: ['modulus', 'age', 'moisture', 'fixity'] } as const,
    ].map((spec) => judgeRelation(fitRelation(rows, spec)));
    expect(padded!.rSquared).toBeGreaterThan(honest!.rSquared);
    expect(padded!.leaveOneOut.rootMeanSquareShare).toBeGreaterThan(honest!.leaveOneOut.rootMeanSquareShare);
  });
});

describe('compareRelations', () => {
  it('judges candidates on the tests that all can use, and passes on why one cannot be fitted', () => {
    const rows = drawTests(20, normalDraws(3)).map((row, i) => ({ ...row, ageYears: i < 15 ? i : null }));
    const { relations, commonTests, leftOut } = compareRelations(rows, [
      PLAIN,
      { ...PLAIN, predictors: ['modulus', 'age'] },
      { ...PLAIN, predictors: ['modulus', 'modulus'] },
    ]);
    expect(commonTests).toBe(15);
    expect(leftOut).toEqual(['T15', 'T16', 'T17', 'T18', 'T19']);
    expect(relations.map(({ judged }) => judged?.tests)).toEqual([15, 15, undefined]);
    expect(relations[2]!.problem).toMatchObject({ code: 'relation.spec' });
  });

  it('takes no test from the others for a candidate that cannot be fitted, and says what most tests lack', () => {
    const rows = drawTests(20, normalDraws(3)).map((row, i) => ({ ...row, fixity: i < 1 ? 5 : null }));
    const { relations, commonTests } = compareRelations(rows, [
      PLAIN,
      { ...PLAIN, predictors: ['modulus', 'fixity'] },
    ]);
    expect(commonTests).toBe(20);
    expect(relations[0]!.judged?.tests).toBe(20);
    expect(relations[1]!.problem?.message).toMatch(
      /can use 1 test; expected 6 or more\. Of 19 left out, 19: No fixity was measured\./,
    );
  });
});

describe('learningCurve', () => {
  it('comes to the error of all tests, and forecasts what twenty more would buy', () => {
    const fit = fitRelation(drawTests(60, normalDraws(5)), PLAIN);
    const { points, now, then } = learningCurve(fit);
    expect(points.map(({ tests }) => tests)).toEqual([15, 24, 33, 42, 51, 60, 80]);
    expect(points.map(({ isForecast }) => isForecast)).toEqual([...Array(6).fill(false), true]);
    for (const { errorShare } of points) {
      expect(errorShare.low).toBeLessThan(errorShare.value);
      expect(errorShare.high).toBeGreaterThan(errorShare.value);
    }
    expect(points[5]!.errorShare.value).toBe(judgeRelation(fit).leaveOneOut.rootMeanSquareShare);
    expect(then.tolerance).toBeLessThan(now.tolerance);
    expect(then.reach).toBeLessThan(now.reach);
    expect(learningCurve(fit)).toEqual({ points, now, then });
  });

  it('forecasts the error that drawn series have', () => {
    const draw = normalDraws(19);
    const [tests, series] = [12, 3000];
    let squares = 0;
    for (let i = 0; i < series; i++) {
      const truth = { scatterSd: 0.1, errorSd: 0 };
      const [pole, ...rows] = drawTests(tests + 1, draw, truth);
      const { coefficients } = fitRelation(rows, PLAIN).relation;
      const predicted = coefficients[0]! + coefficients[1]! * Math.log(pole!.modulusPa!);
      squares += (Math.log(pole!.modulusOfRupturePa) - predicted) ** 2;
    }
    const ratio = Math.sqrt(squares / series) / 0.1 / forecastTests(tests, 1).error;
    // a root mean square of 3000 draws is good to 1.3 %
    expect(Math.abs(ratio - 1)).toBeLessThan(0.05);
  });

  it('knows how unsure a deviation is: chi-square of 10 between 3.940 and 18.307 (table)', () => {
    const { low, high } = spreadOfDeviation(10, 0.9);
    expect(low).toBeCloseTo(Math.sqrt(10 / 18.307), 2);
    expect(high).toBeCloseTo(Math.sqrt(10 / 3.94), 2);
  });
});
