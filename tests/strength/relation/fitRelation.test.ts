import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  appraiseRelation,
  fitRelation,
  medianOf,
  predictFromRelation,
} from '../../../core/strength/index.ts';
import { drawTests, normalDraws } from './drawTests.ts';
import { makeRow, PLAIN } from './makeRow.ts';

const LINEAR = { ...PLAIN, form: 'linear', predictors: ['age'] } as const;
/** Strength in MPa against years in the ground. */
const BY_HAND = [
  [1, 50],
  [3, 46],
  [4, 46],
  [5, 44],
  [5, 47],
  [5, 45],
  [7, 41],
  [10, 41],
] as const;

function rowsByHand() {
  return BY_HAND.map(([ageYears, mpa], i) => makeRow(`${i}`, { ageYears, strengthPa: mpa * 1e6 }));
}

describe('fitRelation', () => {
  it('matches the hand calculation of a straight line', () => {
    // mean x 5, mean y 45, Sxx 50, Sxy -51: slope -1.02, intercept 50.1; RSS = Syy - Sxy^2 / Sxx = 64 - 52.02 = 11.98 over 6
    const { relation, tests } = fitRelation(rowsByHand(), LINEAR);
    expect(relation.terms).toEqual(['intercept', 'age']);
    expect(relation.coefficients[0]! / 1e6).toBeCloseTo(50.1, 9);
    expect(relation.coefficients[1]! / 1e6).toBeCloseTo(-1.02, 9);
    expect(relation.residualScale / 1e6).toBeCloseTo(Math.sqrt(11.98 / 6), 9);
    expect(relation.degreesOfFreedom).toBe(6);
    // h = 1/8 + (x - 5)^2 / 50
    expect(tests.map(({ leverage }) => leverage)).toEqual(
      BY_HAND.map(([x]) => expect.closeTo(1 / 8 + (x - 5) ** 2 / 50, 12)),
    );
  });

  it('gives each species its own level, compared with the first of the alphabet', () => {
    const rows = [
      ...[40, 42, 44].map((mpa, i) => makeRow(`a${i}`, { species: 'douglas-fir', strengthPa: mpa * 1e6 })),
      ...[50, 53, 53].map((mpa, i) => makeRow(`b${i}`, { species: 'red-pine', strengthPa: mpa * 1e6 })),
    ];
    const { relation } = fitRelation(rows, { ...PLAIN, form: 'linear', predictors: [], species: 'fixed' });
    expect(relation.terms).toEqual(['intercept', 'species:red-pine']);
    expect(relation.coefficients.map((b) => b / 1e6)).toEqual([expect.closeTo(42, 9), expect.closeTo(10, 9)]);
    expect(relation.groups[0]!.levels).toEqual([
      { level: 'douglas-fir', poles: 3, effect: 0 },
      { level: 'red-pine', poles: 3, effect: expect.closeTo(10e6, 3) },
    ]);
  });

  it('draws a species of few tests towards the others, and more so the fewer there are', () => {
    const draw = normalDraws(3);
    const groups = { 'douglas-fir': 12, 'red-pine': 12, 'southern-pine': 12, 'western-redcedar': 2 } as const;
    const means = { 'douglas-fir': 38, 'red-pine': 44, 'southern-pine': 50, 'western-redcedar': 60 } as const;
    const rows = (Object.keys(groups) as (keyof typeof groups)[]).flatMap((species) =>
      Array.from({ length: groups[species] }, (_, i) =>
        makeRow(`${species}${i}`, { species, strengthPa: (means[species] + 3 * draw()) * 1e6 }),
      ),
    );
    const spec = { ...PLAIN, form: 'linear', predictors: [] } as const;
    const fixed = fitRelation(rows, { ...spec, species: 'fixed' });
    const pooled = fitRelation(rows, { ...spec, species: 'pooled' });
    const level = (fit: typeof fixed, species: string) => {
      const { effect } = fit.relation.groups[0]!.levels.find((l) => l.level === species)!;
      return fit.relation.coefficients[0]! + effect;
    };
    const centre = pooled.relation.coefficients[0]!;
    const drawn = (species: string) => (level(pooled, species) - centre) / (level(fixed, species) - centre);
    expect(drawn('western-redcedar')).toBeLessThan(drawn('douglas-fir'));
    expect(drawn('western-redcedar')).toBeGreaterThan(0.5);
    expect(drawn('douglas-fir')).toBeLessThan(1);
  });

  it('leaves a gross error out of a robust relation, and names it', () => {
    const clean = drawTests(30, normalDraws(5));
    const wrong = clean.map((row, i) =>
      i === 4 ? { ...row, groundlineMomentNm: 10 * row.groundlineMomentNm } : row,
    );
    const robust = { ...PLAIN, estimator: 'robust' } as const;
    const [ordinaryOff, robustOff] = [PLAIN, robust].map((spec) => {
      const at = (rows: typeof clean) => fitRelation(rows, spec).tests.map(({ fitted }) => fitted);
      const truth = fitRelation(clean, PLAIN).tests.map(({ fitted }) => fitted);
      return Math.hypot(...at(wrong).map((value, i) => value - truth[i]!));
    });
    expect(robustOff!).toBeLessThan(0.3 * ordinaryOff!);
    const { relation, tests } = fitRelation(wrong, robust);
    expect(tests[4]!.robustWeight).toBeLessThan(0.2);
    expect(relation.notes[0]).toMatch(/of 30 tests count for less than half \(.*T4/);
  });

  it('leaves out what it cannot use, with the reason, and keeps the rest', () => {
    const rows = [
      ...drawTests(8, normalDraws(1)),
      makeRow('no-modulus'),
      makeRow('no-interval', { modulusPa: 1e10 }),
    ];
    expect(fitRelation(rows, PLAIN).leftOut).toEqual([
      { id: 'no-modulus', reason: 'No modulus of elasticity was measured.' },
    ]);
    expect(fitRelation(rows, { ...PLAIN, modulusError: 'acknowledged' }).leftOut).toEqual([
      { id: 'no-modulus', reason: expect.stringContaining('No modulus') },
      { id: 'no-interval', reason: expect.stringContaining('no interval of its own') },
    ]);
    expect(
      fitRelation(
        rows.slice(0, 8).map((r, i) => ({ ...r, treatment: i % 2 ? ' CCA' : 'cca ' })),
        {
          ...PLAIN,
          treatment: 'pooled',
        },
      ).relation.groups[0]!.levels,
    ).toHaveLength(1);
  });

  it('refuses, by name: too few tests, collinear predictors, contradictions, exact formulas', () => {
    const rows = drawTests(8, normalDraws(1));
    expect(() => fitRelation([], PLAIN)).toThrow(/2 coefficients and can use 0 tests; expected 5 or more/);
    expect(() => fitRelation(rows.slice(0, 4), PLAIN)).toThrow(/expected 5/);
    expect(() => fitRelation(rows, { ...PLAIN, estimator: 'robust' })).toThrow(/15 or more for a robust fit/);
    const sameAge = rows.map((row) => ({ ...row, ageYears: 20 }));
    expect(() => fitRelation(sameAge, { ...PLAIN, predictors: ['modulus', 'age'] })).toThrow(
      /"age" says nothing that the terms before it do not say/,
    );
    expect(() => fitRelation(rows, { ...PLAIN, predictors: ['modulus', 'modulus'] })).toThrow(/chosen twice/);
    expect(() => fitRelation(rows, { ...PLAIN, predictors: ['age'], modulusError: 'acknowledged' })).toThrow(
      /no predictor carries it/,
    );
    expect(() => fitRelation(rows, { ...PLAIN, estimator: 'robust', species: 'pooled' })).toThrow(
      /does not go with pooled/,
    );
    const formula = rows.map((row) =>
      makeRow(row.id, { modulusPa: row.modulusPa, strengthPa: row.modulusPa! / 200 }),
    );
    expect(() => fitRelation(formula, PLAIN)).toThrow(/lie exactly on the relation/);
  });

  it('does not depend on the order of the tests, nor, when log-linear, on the unit of the modulus', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 6, max: 30 }), (seed, count) => {
        const rows = drawTests(count, normalDraws(seed));
        const fit = fitRelation(rows, PLAIN).relation;
        const turned = fitRelation([...rows].reverse(), PLAIN).relation;
        const scaled = fitRelation(
          rows.map((row) => ({ ...row, modulusPa: row.modulusPa! * 145e-6 })),
          PLAIN,
        ).relation;
        expect(turned.coefficients[1]).toBeCloseTo(fit.coefficients[1]!, 9);
        expect(scaled.coefficients[1]).toBeCloseTo(fit.coefficients[1]!, 9);
        expect(scaled.residualScale).toBeCloseTo(fit.residualScale, 9);
      }),
      { numRuns: 30 },
    );
  });

  it('takes a test of weight 2 as two tests alike', () => {
    const rows = drawTests(12, normalDraws(9));
    const doubled = [...rows, { ...rows[3]!, id: 'again' }];
    const weighted = rows.map((row, i) => ({ ...row, weight: i === 3 ? 2 : 1 }));
    const [a, b] = [
      fitRelation(doubled, PLAIN).relation,
      fitRelation(weighted, { ...PLAIN, estimator: 'weighted' }).relation,
    ];
    expect(b.coefficients).toEqual(a.coefficients.map((value) => expect.closeTo(value, 9)));
    // the same sum of squares over one degree of freedom less, of a test of mean weight 13/12
    expect(b.residualScale ** 2 * 10 * (13 / 12)).toBeCloseTo(a.residualScale ** 2 * 11, 12);
  });

  it('takes weights for ratios: all of 1/30 are all of 1, and a test without one counts as the mean', () => {
    const rows = drawTests(12, normalDraws(9));
    const weigh = (weightOf: (i: number) => number | null) =>
      fitRelation(
        rows.map((row, i) => ({ ...row, weight: weightOf(i) })),
        { ...PLAIN, estimator: 'weighted' },
      ).relation;
    const plain = fitRelation(rows, PLAIN).relation;
    expect(weigh(() => 1 / 30).residualScale).toBeCloseTo(plain.residualScale, 12);
    expect(weigh(() => null).residualScale).toBeCloseTo(plain.residualScale, 12);
    const some = weigh((i) => (i === 0 ? null : 2 + (i % 2) * 4));
    // eleven weights, six of 6 and five of 2: mean 46/11
    expect(some).toEqual(weigh((i) => (i === 0 ? 46 / 11 : 2 + (i % 2) * 4)));
  });

  it('never takes specimens and poles together, and says so of specimens alone', () => {
    const rows = drawTests(16, normalDraws(3)).map((row, i) => ({
      ...row,
      piece: i % 2 ? ('specimen' as const) : ('pole' as const),
    }));
    const mixed = fitRelation(rows, PLAIN);
    expect(mixed.rows.every(({ piece }) => piece === 'pole')).toBe(true);
    expect(mixed.leftOut).toHaveLength(8);
    expect(mixed.leftOut[0]!.reason).toMatch(/specimen cut from a pole, which is stronger/);
    const cut = fitRelation(
      rows.filter(({ piece }) => piece === 'specimen'),
      PLAIN,
    );
    expect(cut.relation.notes).toEqual([expect.stringContaining('specimens cut from poles')]);
    expect(appraiseRelation(cut, 0).weaknesses).toContainEqual({
      id: 'specimens',
      text: expect.stringContaining('a pole carries less than this'),
    });
  });

  it('scales frequencies by geometry: a pole twice the size with the same wood tells the same', () => {
    const small = makeRow('small', { frequenciesHz: [3, null, null], stemLengthM: 6, circumferenceM: 0.6 });
    // f goes with d / L^2: half for twice the size
    const large = makeRow('large', {
      frequenciesHz: [1.5, null, null],
      stemLengthM: 12,
      circumferenceM: 1.2,
    });
    const rows = [
      ...Array.from({ length: 8 }, (_, i) =>
        makeRow(`${i}`, {
          frequenciesHz: [2 + i / 4, null, null],
          stemLengthM: 8,
          circumferenceM: 0.8 + i / 100,
          strengthPa: (40 + ((i * 7) % 5) + i) * 1e6,
        }),
      ),
    ];
    const fit = fitRelation(rows, { ...PLAIN, predictors: ['frequency1'] });
    const [a, b] = [small, large].map((row) => {
      const { modulusOfRupturePa } = predictFromRelation(fit, { ...row, modulusPa: null, isBare: true });
      return medianOf(modulusOfRupturePa!);
    });
    expect(a! / b!).toBeCloseTo(1, 12);
  });
});
