/**
 * Hidden extrapolation against Montgomery, Peck and Vining, Introduction to Linear Regression Analysis (5th ed. 2012), section 3.8 and its example:
 * 25 delivery times by cases and distance (table read, page 381), largest leverage 0.49829 of the ninth, and leverages of further points.
 * The rule was read in slides on the section ("if h00 > hmax then the point is a point of extrapolation"); the printed figures are from
 * memory, and numpy gives the same to all 5 digits, but for the point (8, 275), remembered as 0.05346, which numpy makes 0.05397: that is taken.
 */
import { describe, expect, it } from 'vitest';
import { fitRelation, measurementsOf, predictFromRelation } from '../../core/strength/index.ts';
import { leaveOneOut } from '../../core/strength/judging/leaveOneOut.ts';
import { predictiveShare } from '../../core/strength/judging/predictiveShare.ts';
import { predictByLine } from '../../core/strength/relation/predictByLine.ts';
import { reachOf } from '../../core/strength/relation/reachOf.ts';
import { makeRow, PLAIN } from '../strength/relation/makeRow.ts';
import { readReferenceTable } from './readReferenceTable.ts';

// cases go in as years in the ground, distance as moisture, minutes as strength: any names serve
const rows = readReferenceTable('delivery-times.csv').map((row, i) =>
  makeRow(`${i + 1}`, {
    ageYears: Number(row.cases),
    moisturePercent: Number(row.distance_ft),
    modulusOfRupturePa: Number(row.time_min),
  }),
);
const fit = fitRelation(rows, {
  ...PLAIN,
  response: 'modulusOfRupture',
  form: 'linear',
  predictors: ['age', 'moisture'],
});
const at = (ageYears: number, moisturePercent: number) =>
  measurementsOf(makeRow('new', { ageYears, moisturePercent }));

describe('delivery times', () => {
  it('have their largest leverage at the ninth: the edge of the tests', () => {
    const { edge } = reachOf(fit);
    expect(fit.tests[8]!.leverage).toBeCloseTo(0.49829, 5);
    expect(1 / 25 + edge ** 2 / 24).toBeCloseTo(0.49829, 5);
  });

  it.each([
    [8, 275, 0.05397, false],
    [20, 250, 0.58917, true],
    [28, 500, 0.89874, true],
    [8, 1200, 0.86736, true],
  ])('at %d cases and %d ft: leverage %d, beyond the tests: %s', (cases, feet, leverage, isBeyond) => {
    const line = predictByLine(fit, at(cases, feet));
    expect(line.modulusOfRupturePa && line.leverage).toBeCloseTo(leverage, 5);
    const told = predictFromRelation(fit, { ...at(cases, feet), isBare: true });
    // each is within both spans: it is the two together that were never seen
    expect(told.modulusOfRupturePa === null).toBe(isBeyond);
    if (told.modulusOfRupturePa === null) {
      expect(told.withheldBecause).toMatch(
        /years in the ground \d+ years with moisture \d+ %, \d\.\d standard deviations/,
      );
    }
  });

  it('are foretold by PRESS as numpy does: 459.0393 against the squares about the mean of the others', () => {
    const { value } = predictiveShare(fit.tests, leaveOneOut(fit));
    const times = rows.map(({ modulusOfRupturePa }) => modulusOfRupturePa);
    const mean = times.reduce((sum, y) => sum + y, 0) / 25;
    const squares = times.reduce((sum, y) => sum + (y - mean) ** 2, 0);
    expect((1 - value) * squares * (25 / 24) ** 2).toBeCloseTo(459.0393, 4);
  });
});
