import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { FitError } from '../../../core/errors.ts';
import {
  type BreakTestRow,
  chanceBelow,
  fitRelation,
  measurementsOf,
  medianOf,
  predictFromRelation,
  type RelationSpec,
} from '../../../core/strength/index.ts';
import { predictByLine } from '../../../core/strength/relation/predictByLine.ts';
import { separateMeasurement } from '../../../core/strength/relation/separateMeasurement.ts';
import { drawTests, normalDraws, type Truth } from './drawTests.ts';
import { makeRow, PLAIN } from './makeRow.ts';

const ACKNOWLEDGED: RelationSpec = { ...PLAIN, modulusError: 'acknowledged' };

function predict(fit: ReturnType<typeof fitRelation>, row: BreakTestRow, isBare = true) {
  const prediction = predictFromRelation(fit, { ...measurementsOf(row), isBare });
  if (prediction.modulusOfRupturePa === null) throw new Error(prediction.withheldBecause);
  return prediction;
}

/** By the line alone, wherever the pole lies. */
function predictOnLine(fit: ReturnType<typeof fitRelation>, row: BreakTestRow) {
  const prediction = predictByLine(fit, measurementsOf(row));
  if (prediction.modulusOfRupturePa === null) throw new Error(prediction.withheldBecause);
  return prediction;
}

const TWICE_AS_UNSURE: Truth = { slope: 1, scatterSd: 0.1, errorSd: 0.1 };

describe('predictFromRelation', () => {
  it('matches the hand calculation: centre, leverage, Student part', () => {
    const byHand = [
      [1, 50],
      [3, 46],
      [4, 46],
      [5, 44],
      [5, 47],
      [5, 45],
      [7, 41],
      [10, 41],
    ] as const;
    const rows = byHand.map(([ageYears, mpa], i) => makeRow(`${i}`, { ageYears, strengthPa: mpa * 1e6 }));
    const fit = fitRelation(rows, { ...PLAIN, form: 'linear', predictors: ['age'] });
    const { modulusOfRupturePa, leverage } = predict(fit, makeRow('new', { ageYears: 8 }));
    // 50.1 - 1.02 x 8; h = 1/8 + 9/50; s = sqrt(11.98 / 6)
    expect(medianOf(modulusOfRupturePa) / 1e6).toBeCloseTo(41.94, 9);
    expect(leverage).toBeCloseTo(0.305, 12);
    expect(modulusOfRupturePa.studentScale / 1e6).toBeCloseTo(Math.sqrt((11.98 / 6) * 1.305), 9);
    expect(modulusOfRupturePa.normalSd).toBe(0);
    expect(modulusOfRupturePa.degreesOfFreedom).toBe(6);
  });

  it('is that of the plain regression for a pole measured as well as the tests', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.double({ min: 0.01, max: 0.15, noNaN: true }),
        (seed, errorSd) => {
          const draw = normalDraws(seed);
          const rows = drawTests(20, draw, { errorSd });
          const pole = drawTests(1, draw, { errorSd })[0]!;
          const fit = fitOrNull(rows, ACKNOWLEDGED);
          fc.pre(fit !== null);
          const [plain, corrected] = [fitRelation(rows, PLAIN), fit].map((basis) =>
            predictOnLine(basis, pole),
          );
          const { modulusOfRupturePa: a } = plain!;
          const { modulusOfRupturePa: b } = corrected!;
          expect(b.centre).toBeCloseTo(a.centre, 8);
          expect(b.studentScale).toBeCloseTo(a.studentScale, 8);
          expect(b.normalSd).toBe(0);
        },
      ),
      { numRuns: 30 },
    );
  });

  it('draws a pole measured worse than the tests towards the mean, and widens its interval by what the error may hide', () => {
    const rows = drawTests(40, normalDraws(2));
    const fit = fitRelation(rows, ACKNOWLEDGED);
    const { modulusError, coefficients, covariance } = fit.relation;
    const pole = makeRow('new', { modulusPa: 16e9, modulusLogSd: 0.2 });
    const { modulusOfRupturePa } = predict(fit, pole);
    const { modulusOfRupturePa: sure } = predict(fit, { ...pole, modulusLogSd: 0.05 });
    const mean = modulusError!.coefficients[0]!;
    const share = modulusError!.polesVariance / (modulusError!.polesVariance + 0.04);
    const expected = mean + share * (Math.log(16e9) - mean);
    expect(modulusOfRupturePa.centre).toBeCloseTo(coefficients[0]! + coefficients[1]! * expected, 9);
    const excess = share * 0.04 - modulusError!.remainingVariance;
    expect(modulusOfRupturePa.normalSd).toBeCloseTo(
      Math.sqrt((coefficients[1]! ** 2 + covariance[1]![1]!) * excess),
      9,
    );
    expect(modulusOfRupturePa.centre).toBeLessThan(sure.centre);
  });

  it('withholds where the measurement told nothing, whether the error is acknowledged or not', () => {
    for (const spec of [PLAIN, ACKNOWLEDGED]) {
      const told = predictFromRelation(fitRelation(drawTests(40, normalDraws(2)), spec), {
        ...measurementsOf(makeRow('new')),
        modulusPa: { median: 3e10, logSd: Number.POSITIVE_INFINITY },
        isBare: true,
      });
      expect(told).toMatchObject({
        withheldBecause: expect.stringMatching(/measurement of this pole tells nothing/),
      });
    }
  });

  it('holds 95 of 100 poles though E is twice as unsure as in the tests; taken for as sure, fewer', () => {
    const share = (spec: RelationSpec) => shareInside(spec, TWICE_AS_UNSURE, 0.2, 15, 1500);
    const bound = 4 * Math.sqrt((0.95 * 0.05) / 1500);
    expect(Math.abs(share(ACKNOWLEDGED) - 0.95)).toBeLessThan(bound);
    // ignored, what the pole's modulus is less sure than the tests' still widens the interval
    expect(share(PLAIN)).toBeGreaterThan(0.95 - bound);
    const takenForAsSure = shareInside(PLAIN, TWICE_AS_UNSURE, 0.2, 15, 1500, 0.1);
    expect(takenForAsSure).toBeLessThan(0.95 - bound / 2);
  });

  it('refuses errors that explain the scatter of the moduli, and never gains from a pole surer than the tests', () => {
    // true errors of 10 %
    const state = (logSd: number) =>
      drawTests(40, normalDraws(2), { slope: 0.5, errorSd: 0.1 }).map((row) => ({
        ...row,
        modulusLogSd: logSd,
      }));
    expect(() => fitRelation(state(0.25), ACKNOWLEDGED)).toThrow(
      /explain all of the scatter of these moduli/,
    );
    const pole = makeRow('new', { modulusPa: 16e9, modulusLogSd: 0.05 });
    const overstated = predict(fitRelation(state(0.17), ACKNOWLEDGED), pole).modulusOfRupturePa;
    const plain = predict(fitRelation(state(0.17), PLAIN), pole).modulusOfRupturePa;
    expect(overstated.centre).toBeCloseTo(plain.centre, 8);
    expect(overstated.studentScale).toBeCloseTo(plain.studentScale, 8);
  });

  it('takes a test that was measured badly for next to none', () => {
    const rows = drawTests(40, normalDraws(2), { errorSd: 0.1 });
    const slopeOf = (tests: readonly BreakTestRow[]) =>
      fitRelation(tests, ACKNOWLEDGED).relation.coefficients[1]!;
    const bad = rows.map((row, i) =>
      i === 0 ? { ...row, modulusPa: row.modulusPa! * Math.exp(1.5), modulusLogSd: 2 } : row,
    );
    // by its error of 2 it tells next to nothing of its own modulus: the slope is that of the others
    expect(Math.abs(slopeOf(bad) / slopeOf(rows.slice(1)) - 1)).toBeLessThan(0.05);
  });

  it('where the error is ignored: widens by what the pole is less sure than the tests, withholds what was not measured', () => {
    const rows = drawTests(40, normalDraws(2), { errorSd: 0.05 });
    const fit = fitRelation(rows, PLAIN);
    const { coefficients, covariance } = fit.relation;
    const pole = makeRow('new', { modulusPa: 12e9, modulusLogSd: 0.13 });
    const { modulusOfRupturePa, warnings } = predict(fit, pole);
    // 0.13^2 - 0.05^2 = 0.12^2
    expect(modulusOfRupturePa.normalSd).toBeCloseTo(
      0.12 * Math.hypot(coefficients[1]!, Math.sqrt(covariance[1]![1]!)),
      12,
    );
    expect(warnings).toEqual([
      expect.stringMatching(/known to 14 %, those of the tests to 5 %: the interval is wider/),
    ]);
    expect(predict(fit, { ...pole, modulusLogSd: 0.05 }).modulusOfRupturePa.normalSd).toBe(0);
    const unstated = fitRelation(
      rows.map((row) => ({ ...row, modulusLogSd: null })),
      PLAIN,
    );
    expect(predict(unstated, pole).modulusOfRupturePa.normalSd).toBeGreaterThan(modulusOfRupturePa.normalSd);
    const linear = fitRelation(rows, { ...PLAIN, form: 'linear' });
    const onLine = predict(linear, pole).modulusOfRupturePa;
    const [, slope] = linear.relation.coefficients;
    expect(onLine.normalSd / (0.12 * 12e9)).toBeCloseTo(
      Math.hypot(slope!, Math.sqrt(linear.relation.covariance[1]![1]!)),
      12,
    );
  });

  it('widens for an untested species even where the likeliest variance between the tested ones is 0', () => {
    const species = ['red-pine', 'douglas-fir', 'southern-pine', 'lodgepole-pine', 'ponderosa-pine'] as const;
    // the same twelve strengths in every species
    const rows = drawTests(12, normalDraws(8)).flatMap((row) =>
      species.map((name) => ({
        ...row,
        id: `${row.id} ${name}`,
        poleId: `${row.id} ${name}`,
        species: name,
      })),
    );
    const fit = fitRelation(rows, { ...PLAIN, species: 'pooled' });
    expect(fit.relation.groups[0]!.variance).toBe(0);
    const unknown = predictOnLine(
      fit,
      makeRow('b', { modulusPa: 1e10, modulusLogSd: 0.05, species: 'western-redcedar' }),
    );
    expect(unknown.modulusOfRupturePa.normalSd).toBeGreaterThan(0.02 * fit.relation.residualScale);
  });

  it('withholds what it cannot know: a predictor not measured, a group not tested', () => {
    const draw = normalDraws(4);
    const rows = drawTests(12, draw).map((row, i) => ({
      ...row,
      species: i % 2 ? ('red-pine' as const) : ('douglas-fir' as const),
    }));
    const without = (spec: RelationSpec, row: BreakTestRow) => {
      const fit = fitRelation(rows, spec);
      const answer = predictFromRelation(fit, { ...measurementsOf(row), isBare: true });
      return answer.modulusOfRupturePa === null ? answer.withheldBecause : 'predicted';
    };
    expect(without(PLAIN, makeRow('new'))).toMatch(/predicts from modulus of elasticity, which is not known/);
    const cedar = makeRow('new', { modulusPa: 1e10, species: 'western-redcedar' });
    for (const species of ['fixed', 'pooled'] as const) {
      expect(without({ ...PLAIN, species }, cedar)).toMatch(
        /no tested pole is of species western-redcedar; it holds douglas-fir, red-pine/,
      );
    }
    expect(without(PLAIN, cedar)).toMatch(
      /^None of the tested poles are of western redcedar: from fewer than 5/,
    );
  });

  it('has a line for a species that was not tested where five others were, with a wider interval, and tells nothing by it', () => {
    const species = ['red-pine', 'douglas-fir', 'southern-pine', 'lodgepole-pine', 'ponderosa-pine'] as const;
    const draw = normalDraws(8);
    const shifts = species.map(() => 0.15 * draw());
    const rows = drawTests(60, draw).map((row, i) => ({
      ...row,
      species: species[i % 5]!,
      groundlineMomentNm: row.groundlineMomentNm * Math.exp(shifts[i % 5]!),
    }));
    const fit = fitRelation(rows, { ...PLAIN, species: 'pooled' });
    const known = predict(fit, makeRow('a', { modulusPa: 1e10, species: 'red-pine' }));
    const untested = makeRow('b', { modulusPa: 1e10, species: 'western-redcedar' });
    const unknown = predictOnLine(fit, untested);
    expect(() => predict(fit, untested)).toThrow(/^None of the tested poles are of western redcedar/);
    expect(unknown.modulusOfRupturePa.normalSd).toBeGreaterThan(0.05);
    expect(known.modulusOfRupturePa.normalSd).toBe(0);
  });

  it('tells nothing of predictors that never went together so, and warns of cables and of what is not known', () => {
    const draw = normalDraws(6);
    // stiff poles ring high: together the two predictors span a narrow band
    const rows = drawTests(30, draw).map((row) => ({
      ...row,
      frequenciesHz: [2 * Math.sqrt(row.modulusPa! / 11e9) * Math.exp(0.02 * draw()), null, null],
      stemLengthM: 8,
      ageYears: 10,
    }));
    const fit = fitRelation(rows, { ...PLAIN, predictors: ['modulus', 'frequency1'] });
    const poleOf = (modulusPa: number, hz: number) => ({
      ...makeRow('new', { modulusPa, ageYears: 10, stemLengthM: 8 }),
      frequenciesHz: [hz, null, null],
    });
    expect(predict(fit, poleOf(11e9, 2)).warnings).toEqual([]);
    // each within its span, and together nothing like the tests
    expect(() => predict(fit, poleOf(9e9, 2.25))).toThrow(
      /outside of what the tests carry: modulus .* 9 GPa with frequency .* \d+\.\d standard deviations from the middle of the tested poles/,
    );
    expect(predict(fit, poleOf(11e9, 2), false).warnings).toEqual([
      expect.stringContaining('Cables or equipment move the frequencies'),
    ]);
    expect(predict(fit, { ...poleOf(11e9, 2), ageYears: null }).warnings).toEqual([
      expect.stringMatching(/Not known: years in the ground; the tested poles had 10 years/),
    ]);
  });

  it('says what moved the estimate', () => {
    const fit = fitRelation(drawTests(40, normalDraws(2)), PLAIN);
    expect(predict(fit, makeRow('new', { modulusPa: 8e9 })).because).toEqual([
      expect.stringMatching(
        /^modulus of elasticity by the recordings alone 8 GPa against 1\d\.\d GPa of the tested poles: strength \d+ % lower\.$/,
      ),
    ]);
  });
});

describe('separateMeasurement', () => {
  it('takes out what was known before: prior 10 GPa with 0.2, measured 12 GPa with 0.1', () => {
    const [prior, measured] = [
      { median: 10e9, logSd: 0.2 },
      { median: 12e9, logSd: 0.1 },
    ];
    const precision = 25 + 100;
    const posterior = {
      median: Math.exp((25 * Math.log(10e9) + 100 * Math.log(12e9)) / precision),
      logSd: precision ** -0.5,
    };
    const back = separateMeasurement(posterior, prior);
    expect(back.median / measured.median).toBeCloseTo(1, 12);
    expect(back.logSd).toBeCloseTo(0.1, 12);
  });

  it('is endlessly wide where nothing was learned, and leaves a bare measurement alone', () => {
    const prior = { median: 10e9, logSd: 0.2 };
    expect(separateMeasurement(prior, prior)).toEqual({ median: 10e9, logSd: Number.POSITIVE_INFINITY });
    expect(separateMeasurement({ median: 9e9, logSd: 0.25 }, prior).logSd).toBe(Number.POSITIVE_INFINITY);
    expect(separateMeasurement(prior, null)).toBe(prior);
    expect(separateMeasurement({ median: 9e9, logSd: 0 }, prior)).toEqual({ median: 9e9, logSd: 0 });
  });
});

/** A few drawn series scatter so little that their errors explain it: they are refused. */
function fitOrNull(rows: readonly BreakTestRow[], spec: RelationSpec) {
  try {
    return fitRelation(rows, spec);
  } catch (error) {
    if (error instanceof FitError) return null;
    throw error;
  }
}

/** Share of drawn poles inside their 95 % interval, each by a series of its own. */
function shareInside(
  spec: RelationSpec,
  truth: Truth,
  poleErrorSd: number,
  tests: number,
  trials: number,
  statedErrorSd = poleErrorSd,
): number {
  const draw = normalDraws(12);
  let inside = 0;
  let fitted = 0;
  for (let trial = 0; trial < trials; trial++) {
    const drawn = drawTests(tests, draw, truth);
    const pole = drawTests(1, draw, { ...truth, errorSd: poleErrorSd })[0]!;
    const fit = fitOrNull(drawn, spec);
    if (!fit) continue;
    fitted++;
    const { modulusOfRupturePa } = predictOnLine(fit, { ...pole, modulusLogSd: statedErrorSd });
    const chance = chanceBelow(modulusOfRupturePa, pole.modulusOfRupturePa);
    if (chance > 0.025 && chance < 0.975) inside++;
  }
  return inside / fitted;
}
