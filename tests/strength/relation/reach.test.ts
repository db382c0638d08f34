import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitRelation, measurementsOf, medianOf, predictFromRelation } from '../../../core/strength/index.ts';
import { predictByLine } from '../../../core/strength/relation/predictByLine.ts';
import { reachOf } from '../../../core/strength/relation/reachOf.ts';
import { drawTests, normalDraws } from './drawTests.ts';
import { makeRow, PLAIN } from './makeRow.ts';

/** Twelve invented tests with E of 8.5 to 14.6 GPa that tell next to nothing of strength. */
const MODULI_GPA = [8.5, 9.2, 9.7, 10.1, 10.6, 11, 11.3, 11.9, 12.4, 13.1, 13.8, 14.6];
const STRENGTHS_MPA = [44, 52, 39, 55, 47, 41, 58, 45, 50, 43, 57, 49];
const rows = MODULI_GPA.map((gpa, i) =>
  makeRow(`${i}`, { modulusPa: gpa * 1e9, modulusLogSd: 0.05, strengthPa: STRENGTHS_MPA[i]! * 1e6 }),
);
const fit = fitRelation(rows, PLAIN);

type Given = Parameters<typeof makeRow>[1];

function ask(given: Given, basis = fit) {
  return predictFromRelation(basis, {
    ...measurementsOf(makeRow('new', { modulusLogSd: 0.05, ...given })),
    isBare: true,
  });
}

/** Median on the scale of strength, in MPa; NaN where nothing is told. */
function medianMpa(given: Given, basis = fit): number {
  const { modulusOfRupturePa } = ask(given, basis);
  return modulusOfRupturePa === null ? Number.NaN : medianOf(modulusOfRupturePa) / 1e6;
}

describe('a pole outside of the tests', () => {
  it('gets no strength where it is far softer or stiffer, with where the tests lie and what to do', () => {
    for (const gpa of [4.3, 6.5, 22]) {
      expect(ask({ modulusPa: gpa * 1e9 })).toMatchObject({
        modulusOfRupturePa: null,
        withheldBecause: expect.stringMatching(
          new RegExp(
            `outside of what the tests carry: modulus of elasticity by the recordings alone ${gpa} GPa, where the tested poles had 8.5 GPa to 14.6 GPa\\. .* Check girth`,
          ),
        ),
      });
    }
    for (const gpa of MODULI_GPA) expect(medianMpa({ modulusPa: gpa * 1e9 })).toBeGreaterThan(0);
  });

  it('is told of just outside, and never lifted: by hand, 8 GPa', () => {
    const logs = MODULI_GPA.map((gpa) => Math.log(gpa));
    const mean = logs.reduce((sum, x) => sum + x, 0) / 12;
    const sdOf = (values: readonly number[]) => {
      const middle = values.reduce((sum, x) => sum + x, 0) / values.length;
      return Math.sqrt(values.reduce((sum, x) => sum + (x - middle) ** 2, 0) / 11);
    };
    const beyond = (Math.log(8.5) - Math.log(8)) / sdOf(logs);
    const distance = (mean - Math.log(8)) / sdOf(logs);
    expect(distance).toBeLessThan(Math.sqrt((11 * 5) / 12));
    const fall = beyond * sdOf(STRENGTHS_MPA.map((mpa) => Math.log(mpa)));
    expect(medianMpa({ modulusPa: 8e9 }) / medianMpa({ modulusPa: 8.5e9 })).toBeCloseTo(Math.exp(-fall), 9);
    const told = ask({ modulusPa: 8e9 });
    expect('warnings' in told && told.warnings).toEqual([
      expect.stringMatching(
        /^Just outside of the tests: .* 8 GPa, where .* not drawn towards the mean of the tests\.$/,
      ),
      expect.stringMatching(/^Among the softest tenth/),
    ]);
    // what is told adds up: from the mean to the edge by the line, and from there by the fall
    const share = (log: number) => `${(100 * Math.abs(Math.expm1(log))).toFixed(0)} %`;
    const slope = fit.relation.coefficients[1]!;
    expect('because' in told && told.because).toEqual([
      expect.stringMatching(
        `^At the edge of the tests, modulus .* 8.5 GPa against .*: strength ${share(slope * (Math.log(8.5) - mean))} lower\\.$`,
      ),
      `From there to this pole: strength ${share(-fall)} lower.`,
    ]);
    const line = predictByLine(fit, measurementsOf(makeRow('new', { modulusPa: 8e9, modulusLogSd: 0.05 })));
    expect(medianMpa({ modulusPa: 8e9 })).toBeLessThan(medianOf(line.modulusOfRupturePa!) / 1e6);
    // the interval is that of where it lies, wider than at the edge
    const studentAt = (gpa: number) => ask({ modulusPa: gpa * 1e9 }).modulusOfRupturePa!.studentScale;
    expect(studentAt(8)).toBeGreaterThan(studentAt(8.5));
  });

  it('has no more strength than at the edge where it is stiffer', () => {
    expect(medianMpa({ modulusPa: 15e9 })).toBeCloseTo(medianMpa({ modulusPa: 14.6e9 }), 9);
    const told = ask({ modulusPa: 15e9 });
    expect('warnings' in told && told.warnings[0]).toMatch(/that of the outermost tests, not more\.$/);
  });

  it('falls though the tests’ slope is against nature', () => {
    const upside = fitRelation(
      rows.map((row, i) => ({
        ...row,
        groundlineMomentNm: rows[11 - i]!.groundlineMomentNm * (1.5 - i / 24),
      })),
      PLAIN,
    );
    expect(upside.relation.coefficients[1]!).toBeLessThan(0);
    expect(medianMpa({ modulusPa: 8e9 }, upside)).toBeLessThan(medianMpa({ modulusPa: 8.5e9 }, upside));
    expect(medianMpa({ modulusPa: 4.3e9 }, upside)).toBeNaN();
  });

  it('is one whose modulus is drawn towards the tests by a bad measurement all the same', () => {
    const acknowledged = fitRelation(drawTests(30, normalDraws(5)), {
      ...PLAIN,
      modulusError: 'acknowledged',
    });
    expect(medianMpa({ modulusPa: 4.3e9, modulusLogSd: 0.3 }, acknowledged)).toBeNaN();
    expect(medianMpa({ modulusPa: 11e9, modulusLogSd: 0.3 }, acknowledged)).toBeGreaterThan(0);
  });

  it('is one that is soft for its species, though softer species are as soft', () => {
    const mixed = drawTests(40, normalDraws(9)).map((row, i) => ({
      ...row,
      species: i % 2 ? ('southern-pine' as const) : ('western-redcedar' as const),
      modulusPa: row.modulusPa! * (i % 2 ? 1 : 0.5),
    }));
    for (const species of ['pooled', 'fixed'] as const) {
      const parted = fitRelation(mixed, { ...PLAIN, species });
      expect(medianMpa({ modulusPa: 5.5e9, species: 'western-redcedar' }, parted)).toBeGreaterThan(0);
      expect(ask({ modulusPa: 5.5e9, species: 'southern-pine' }, parted)).toMatchObject({
        withheldBecause: expect.stringContaining('the tested poles of southern pine had'),
      });
    }
  });

  it('says so where it is inside, but of the tests perhaps one is as far out', () => {
    const withOne = fitRelation(
      [...rows, makeRow('far', { modulusPa: 4e9, modulusLogSd: 0.05, strengthPa: 20e6 })],
      PLAIN,
    );
    const told = ask({ modulusPa: 4.3e9 }, withOne);
    expect('warnings' in told && told.warnings).toEqual([
      expect.stringContaining('its strength rests on them'),
      expect.stringMatching(/^Among the softest tenth .* Look for decay\.$/),
    ]);
  });

  it('is told of decay where it is as soft as the softest tenth of the tests', () => {
    // of twelve, two: 8.5 and 9.2 GPa
    const isWarned = (gpa: number) => {
      const told = ask({ modulusPa: gpa * 1e9 });
      return 'warnings' in told && told.warnings.some((text) => text.startsWith('Among the softest tenth'));
    };
    expect([8.2, 8.6, 9.2, 9.3, 14].map(isWarned)).toEqual([true, true, true, false, false]);
  });

  it('is withheld between the tests and one that lies far out another way', () => {
    const draw = normalDraws(12);
    const girths = (count: number) =>
      drawTests(count, draw).map((row) =>
        makeRow(row.id, {
          ...row,
          circumferenceM: 0.9 * Math.exp(0.05 * draw()),
          strengthPa: row.modulusOfRupturePa,
        }),
      );
    const spec = { ...PLAIN, predictors: ['modulus', 'circumference'] } as const;
    const plainRows = girths(30);
    // far out in girth and in modulus both, against the way they go together
    const far = makeRow('far', {
      modulusPa: 22e9,
      modulusLogSd: 0.05,
      circumferenceM: 0.65,
      strengthPa: 70e6,
    });
    const basis = fitRelation([...plainRows, far], spec);
    expect(medianMpa(far, basis)).toBeGreaterThan(0);
    const { limit, middles, spans } = reachOf(basis);
    const at = (u: readonly number[]) => ({
      modulusPa: Math.exp(middles.get('')![0]! + u[0]!),
      circumferenceM: Math.exp(middles.get('')![1]! + u[1]!),
    });
    expect(limit).toBeLessThan(3);
    // as stiff as the far one, and of the usual girth: within both spans
    const aside = at([spans[0]!.max * 0.98, 0]);
    expect(ask(aside, basis)).toMatchObject({
      withheldBecause: expect.stringMatching(
        /^This pole is farther out than tests mostly are, and none of them lies as far out that way: /,
      ),
    });
    const without = ask(aside, fitRelation(plainRows, spec));
    expect(without.modulusOfRupturePa).toBeNull();
  });
});

describe('a pole whose species is not named', () => {
  it('gets no strength, whatever is done with species; tests without one speak of no pole', () => {
    const draw = normalDraws(8);
    for (const species of ['none', 'fixed', 'pooled'] as const) {
      const tests = drawTests(24, draw).map((row, i) => ({
        ...row,
        species: i % 2 ? ('other' as const) : ('red-pine' as const),
      }));
      const basis = fitRelation(tests, { ...PLAIN, species });
      expect(ask({ modulusPa: 11e9, species: 'other' }, basis)).toMatchObject({
        withheldBecause: expect.stringMatching(
          /^The species of this pole is not stated, .* State the species with the visit\.$/,
        ),
      });
      expect(medianMpa({ modulusPa: 11e9 }, basis)).toBeGreaterThan(0);
      const unnamed = fitRelation(
        tests.map((row) => ({ ...row, species: 'other' as const })),
        { ...PLAIN, species: 'none' },
      );
      for (const asked of ['other', 'red-pine', 'douglas-fir'] as const) {
        expect(ask({ modulusPa: 11e9, species: asked }, unnamed).modulusOfRupturePa).toBeNull();
      }
    }
  });
});

describe('a pole of a kind that few tests are of', () => {
  const withCedar = rows.map((row, i) => (i === 4 ? { ...row, species: 'western-redcedar' as const } : row));

  it.each(['none', 'pooled'] as const)(
    'gets no strength where species are taken together or drawn together: %s',
    (species) => {
      const mixed = fitRelation(withCedar, { ...PLAIN, species });
      expect(ask({ modulusPa: 11e9, species: 'western-redcedar' }, mixed)).toMatchObject({
        withheldBecause: expect.stringMatching(
          /^Only 1 of the tested poles is of western redcedar: from fewer than 5/,
        ),
      });
      expect(medianMpa({ modulusPa: 11e9 }, mixed)).toBeGreaterThan(0);
    },
  );

  it('gets one from five on, unless those came out weaker than the relation tells', () => {
    const draw = normalDraws(31);
    const of = (cedars: number, share: number) =>
      fitRelation(
        drawTests(30, draw).map((row, i) =>
          i < cedars
            ? {
                ...row,
                species: 'western-redcedar' as const,
                groundlineMomentNm: row.groundlineMomentNm * share,
              }
            : row,
        ),
        PLAIN,
      );
    expect(ask({ modulusPa: 11e9, species: 'western-redcedar' }, of(4, 1)).modulusOfRupturePa).toBeNull();
    expect(medianMpa({ modulusPa: 11e9, species: 'western-redcedar' }, of(5, 1))).toBeGreaterThan(0);
    expect(ask({ modulusPa: 11e9, species: 'western-redcedar' }, of(12, 0.6))).toMatchObject({
      withheldBecause: expect.stringMatching(
        /^The 12 tested poles of western redcedar came out weaker than the calibration tells/,
      ),
    });
  });
});

describe('strength over the modulus', () => {
  it('jumps nowhere, rises nowhere beyond the tests, and is told of one stretch alone', () => {
    fc.assert(
      fc.property(fc.integer({ min: 6, max: 40 }), fc.integer({ min: 1, max: 1e6 }), (count, seed) => {
        const basis = fitRelation(drawTests(count, normalDraws(seed)), PLAIN);
        const logs = basis.tests.map(({ values }) => values[0]!);
        const [least, most] = [Math.min(...logs), Math.max(...logs)];
        const steps = Array.from({ length: 400 }, (_, i) => Math.log(2e9) + (i / 400) * Math.log(20));
        const told = steps.map((log) => medianMpa({ modulusPa: Math.exp(log) }, basis));
        const first = told.findIndex((mpa) => mpa > 0);
        const last = told.findLastIndex((mpa) => mpa > 0);
        expect(told.slice(first, last + 1).every((mpa) => mpa > 0)).toBe(true);
        const steepest = Math.max(
          Math.abs(basis.relation.coefficients[1]!),
          reachOf(basis).strengthSd * reachOf(basis).inverseCovariance[0]![0]! ** 0.5,
        );
        for (let i = first; i < last; i++) {
          const step = Math.log(told[i + 1]! / told[i]!);
          expect(Math.abs(step)).toBeLessThanOrEqual(steepest * (steps[1]! - steps[0]!) * (1 + 1e-6));
          if (steps[i]! >= most) expect(step).toBeLessThanOrEqual(1e-9);
          if (steps[i + 1]! <= least) expect(step).toBeGreaterThanOrEqual(-1e-9);
        }
      }),
      { numRuns: 25 },
    );
  });
});

describe('invented poles', () => {
  it('that decay softened and weakened below all tested ones are withheld; sound ones like the tests are told, and held', () => {
    const draw = normalDraws(77);
    let [softTold, soundTold, soundAbove] = [0, 0, 0];
    const SERIES = 150;
    for (let i = 0; i < SERIES; i++) {
      // of such tests the line is nearly flat
      const basis = fitRelation(drawTests(20, draw, { slope: 0.2 }), PLAIN);
      const sound = drawTests(1, draw, { slope: 0.2 })[0]!;
      const soft = { ...sound, modulusPa: 4.5e9, modulusOfRupturePa: 18e6 };
      if (ask(soft, basis).modulusOfRupturePa) softTold++;
      const { modulusOfRupturePa } = ask(sound, basis);
      if (modulusOfRupturePa === null) continue;
      soundTold++;
      const least = modulusOfRupturePa.centre - 1.74 * modulusOfRupturePa.studentScale;
      if (Math.log(sound.modulusOfRupturePa) > least) soundAbove++;
    }
    expect(softTold).toBe(0);
    expect(soundTold / SERIES).toBeGreaterThan(0.9);
    expect(soundAbove / soundTold).toBeGreaterThan(0.95 - 3 * Math.sqrt((0.95 * 0.05) / SERIES));
  });
});
