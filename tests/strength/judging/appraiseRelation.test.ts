import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  appraiseRelation,
  fitRelation,
  leaveOneOut,
  type RelationSpec,
} from '../../../core/strength/index.ts';
import { predictiveShare } from '../../../core/strength/judging/predictiveShare.ts';
import { drawTests, normalDraws } from '../relation/drawTests.ts';
import { makeRow, PLAIN } from '../relation/makeRow.ts';

const idsOf = (fit: ReturnType<typeof fitRelation>, arms: number | null = 0) =>
  appraiseRelation(fit, arms).weaknesses.map(({ id }) => id);

describe('predictiveShare', () => {
  it('by hand: four poles, errors against the mean of the other three', () => {
    // means of the others of 1, 2, 3, 6: 11/3, 10/3, 3, 2; squares off them 64/9, 16/9, 0, 16: 224/9
    const tests = [1, 2, 3, 6].map((response) => ({ response }));
    const heldOut = [2, 2, 2, 5].map((centre, i) => ({
      id: `${i}`,
      poleId: `${i}`,
      measuredPa: 1,
      strengthPa: { scale: 'linear' as const, centre, normalSd: 0, studentScale: 1, degreesOfFreedom: 5 },
      withheldBecause: null,
    }));
    // squared errors 1, 0, 1, 1
    const { value, low, high } = predictiveShare(tests, heldOut);
    expect(value).toBeCloseTo(1 - 27 / 224, 12);
    // (27/224) of each square less each squared error: -1/7, 3/14, -1, 13/14; sum of squares 27/14; t(0.95; 3) = 2.353363 (table)
    const half = (2.353363 * Math.sqrt(((27 / 14) * 4) / 3)) / (224 / 9);
    expect([low, high].map((end) => end - value)).toEqual([
      expect.closeTo(-half, 6),
      expect.closeTo(half, 6),
    ]);
  });

  it('is 0 for the mean itself, whatever the tests, and not above for what was withheld', () => {
    fc.assert(
      fc.property(fc.integer({ min: 6, max: 30 }), fc.integer({ min: 1, max: 1e6 }), (count, seed) => {
        const fit = fitRelation(drawTests(count, normalDraws(seed)), { ...PLAIN, predictors: [] });
        const { value, low, high } = predictiveShare(fit.tests, leaveOneOut(fit));
        expect(value).toBeCloseTo(0, 9);
        expect(high - low).toBeLessThan(1e-6);
        const silent = leaveOneOut(fit).map((test) => ({
          ...test,
          strengthPa: null,
          withheldBecause: 'none',
        }));
        expect(predictiveShare(fit.tests, silent).value).toBeCloseTo(0, 12);
      }),
      { numRuns: 20 },
    );
  });

  it('leaves out all tests of a pole together', () => {
    const rows = drawTests(12, normalDraws(4));
    const twice = rows.map((row, i) => (i === 1 ? { ...row, poleId: rows[0]!.poleId } : row));
    const of = (given: typeof rows) => {
      const fit = fitRelation(given, PLAIN);
      return predictiveShare(fit.tests, leaveOneOut(fit)).value;
    };
    expect(of(twice)).not.toBeCloseTo(of(rows), 6);
  });
});

describe('appraiseRelation', () => {
  it('asks of nearly every relation that tells nothing, and of few that tell much', () => {
    const asked = (slope: number, count: number) => {
      const draw = normalDraws(count + 1);
      const SERIES = 100;
      let times = 0;
      for (let i = 0; i < SERIES; i++) {
        const fit = fitRelation(drawTests(count, draw, { slope, errorSd: 0 }), PLAIN);
        if (idsOf(fit).includes('no-better-than-mean')) times++;
      }
      return times / SERIES;
    };
    expect(asked(0, 12)).toBeGreaterThan(0.93);
    expect(asked(0, 60)).toBeGreaterThan(0.93);
    // correlation 0.8
    expect(asked(1, 30)).toBeLessThan(0.07);
  });

  it('tells tests, poles, species with their counts, and of the mean of tests that it is one', () => {
    const rows = drawTests(20, normalDraws(2), { slope: 1.5, scatterSd: 0.05 }).map((row, i) => ({
      ...row,
      species: i < 6 ? ('western-redcedar' as const) : ('red-pine' as const),
    }));
    expect(appraiseRelation(fitRelation(rows, PLAIN), 0)).toMatchObject({
      tests: 20,
      poles: 20,
      species: [
        { level: 'red pine', poles: 14 },
        { level: 'western redcedar', poles: 6 },
      ],
      weaknesses: [],
    });
    const mean = appraiseRelation(fitRelation(rows, { ...PLAIN, predictors: [] }), 0);
    expect(mean.weaknesses[0]).toMatchObject({
      id: 'no-better-than-mean',
      text: expect.stringContaining('the mean of its tests of every pole'),
    });
  });

  it('names each weakness: slope against nature, one test that bears all, poles broken again, few or weaker kinds, whole arms, stress where it broke', () => {
    const good = drawTests(24, normalDraws(11), { slope: 1.5, scatterSd: 0.05 });
    expect(idsOf(fitRelation(good, PLAIN))).toEqual([]);
    const upside = good.map((row) => ({ ...row, modulusPa: 1e20 / row.modulusPa! }));
    expect(idsOf(fitRelation(upside, PLAIN))).toEqual(['softer-is-stronger']);
    const far = makeRow('far', { modulusPa: 40e9, strengthPa: 20e6 });
    const bears = appraiseRelation(fitRelation([...good, far], PLAIN), 0).weaknesses;
    expect(bears).toContainEqual({
      id: 'rests-on-few-tests',
      text: expect.stringContaining('one test (far)'),
    });
    const again = good.slice(0, 3).map((row) => ({ ...row, id: `${row.id} again` }));
    const repeated = appraiseRelation(fitRelation([...good, ...again], PLAIN), 0);
    expect(repeated).toMatchObject({ tests: 27, poles: 24 });
    expect(repeated.weaknesses).toEqual([
      {
        id: 'pole-repeated',
        text: expect.stringMatching(
          /^The same pole was broken more than once: 6 of 27 tests, of 3 poles\. .* than 24 poles allow\.$/,
        ),
      },
    ]);
    const cedars = (count: number, share: number) =>
      good.map((row, i) =>
        i < count
          ? {
              ...row,
              species: 'western-redcedar' as const,
              groundlineMomentNm: row.groundlineMomentNm * share,
            }
          : row,
      );
    expect(idsOf(fitRelation(cedars(1, 1), PLAIN))).toEqual(['few-of-a-kind']);
    expect(idsOf(fitRelation(cedars(8, 0.8), PLAIN))).toContain('kind-overstated');
    expect(idsOf(fitRelation(cedars(8, 0.8), { ...PLAIN, species: 'fixed' }))).toEqual([]);
    expect(idsOf(fitRelation(good, PLAIN), 2)).toEqual(['arms-not-shortened']);
    const where: RelationSpec = { ...PLAIN, response: 'modulusOfRupture' };
    expect(idsOf(fitRelation(good, where), null)).toEqual(['stress-where-it-broke']);
  });

  it('says of fewer than three poles that they are too few, not a number that is none', () => {
    const rows = drawTests(8, normalDraws(3)).map((row, i) => ({ ...row, poleId: `pole ${i % 2}` }));
    const [first] = appraiseRelation(fitRelation(rows, PLAIN), 0).weaknesses;
    expect(first).toMatchObject({
      id: 'no-better-than-mean',
      text: expect.stringMatching(/mean of its tests, since it rests on fewer than three poles\. /),
    });
    expect(first!.text).not.toContain('NaN');
  });

  it('tells of tests without a species, whatever is done with species', () => {
    const rows = drawTests(24, normalDraws(11), { slope: 1.5, scatterSd: 0.05 }).map((row, i) =>
      i < 8 ? { ...row, species: 'other' as const } : row,
    );
    for (const species of ['none', 'fixed', 'pooled'] as const) {
      expect(appraiseRelation(fitRelation(rows, { ...PLAIN, species }), 0).weaknesses).toContainEqual({
        id: 'few-of-a-kind',
        text: expect.stringMatching(/^8 of the 24 tests name no species that is known here/),
      });
    }
  });
});
