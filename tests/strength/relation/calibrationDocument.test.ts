import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  calibrationFromDocument,
  calibrationLabel,
  fitRelation,
  medianOf,
  publishCalibration,
  type RelationSpec,
  readCalibrationDocument,
  weaknessesOf,
} from '../../../core/strength/index.ts';
import { formatCalibrationSchema } from '../../../core/strength/relation/writeCalibrationSchema.ts';
import { UNMEASURED } from '../unmeasured.ts';
import { drawTests, normalDraws } from './drawTests.ts';
import { makeRow, PLAIN } from './makeRow.ts';

const PUBLICATION = {
  name: 'test-yard',
  number: 2,
  author: 'A. Tester',
  note: 'Invented series.',
  publishedAt: '2026-05-03T10:00:00Z',
};
const POOLED: RelationSpec = { ...PLAIN, species: 'pooled', modulusError: 'acknowledged' };
const ROWS = drawTests(30, normalDraws(21)).map((row, i) => ({
  ...row,
  species: i % 3 ? ('red-pine' as const) : ('douglas-fir' as const),
}));
const STEM = {
  species: 'red-pine',
  moisturePercent: 20,
  temperatureC: 15,
  ageYears: 10,
  treatment: null,
  ...UNMEASURED,
} as const;

function publish(spec = POOLED) {
  return publishCalibration(fitRelation(ROWS, spec), PUBLICATION);
}

describe('a calibration document', () => {
  it('comes back from JSON with every digit', () => {
    const document = publish();
    expect(readCalibrationDocument(JSON.parse(JSON.stringify(document)))).toEqual(document);
  });

  it('predicts as its fit does, without a fit', () => {
    const calibration = calibrationFromDocument(publish());
    expect(calibrationLabel(calibration)).toBe('test-yard@2');
    expect(calibration.source).toMatch(
      /^A\. Tester, 2026-05-03: 30 break tests, SHA-256 [0-9a-f]{64}\. Invented series\.$/,
    );
    expect(calibration.describe()).toMatch(
      /from modulus of elasticity: a log-linear relation .* 30 poles.*error of the modulus is acknowledged/s,
    );
    const { modulusOfRupturePa } = calibration.predictModulusOfRupture({
      ...STEM,
      modulusPa: { median: 11e9, logSd: 0.08 },
    });
    const strengths = ROWS.map(({ modulusOfRupturePa: pa }) => pa).sort((a, b) => a - b);
    expect(medianOf(modulusOfRupturePa!)).toBeGreaterThan(strengths[3]!);
    expect(medianOf(modulusOfRupturePa!)).toBeLessThan(strengths[26]!);
  });

  it('takes the prior out of an assessment’s modulus before it acknowledges the error of the measurement', () => {
    const calibration = calibrationFromDocument(publish());
    const measured = { median: 13e9, logSd: 0.1 };
    const prior = { median: 9e9, logSd: 0.2, isSetByHand: false };
    const posterior = {
      median: Math.exp((25 * Math.log(prior.median) + 100 * Math.log(measured.median)) / 125),
      logSd: 125 ** -0.5,
    };
    const predict = (predictors: object) =>
      calibration.predictModulusOfRupture({ ...STEM, modulusPa: measured, ...predictors })
        .modulusOfRupturePa!;
    const [bare, separated] = [predict({}), predict({ modulusPa: posterior, modulusPriorPa: prior })];
    expect(separated.centre).toBeCloseTo(bare.centre, 12);
    expect(separated.normalSd).toBeCloseTo(bare.normalSd, 12);
  });

  it('takes the prior out where the error is ignored too, and withholds where the prior is all there is', () => {
    const calibration = calibrationFromDocument(publish(PLAIN));
    const prior = { median: 9e9, logSd: 0.2, isSetByHand: false };
    const answer = calibration.predictModulusOfRupture({ ...STEM, modulusPa: prior, modulusPriorPa: prior });
    expect(answer).toMatchObject({ modulusOfRupturePa: null });
    const at = (modulusPa: { median: number; logSd: number }, modulusPriorPa: typeof prior | null) =>
      calibration.predictModulusOfRupture({ ...STEM, modulusPa, modulusPriorPa }).modulusOfRupturePa!;
    const posterior = {
      median: Math.exp((25 * Math.log(9e9) + 100 * Math.log(13e9)) / 125),
      logSd: 125 ** -0.5,
    };
    expect(at(posterior, prior).centre).toBeCloseTo(at({ median: 13e9, logSd: 0.1 }, null).centre, 12);
  });

  it('withholds where the prior of the modulus was set by hand, if it predicts from the modulus', () => {
    const modulusPriorPa = { median: 11e9, logSd: 0.2, isSetByHand: true };
    const stem = { ...STEM, modulusPa: { median: 11e9, logSd: 0.08 }, modulusPriorPa };
    expect(calibrationFromDocument(publish()).predictModulusOfRupture(stem)).toMatchObject({
      modulusOfRupturePa: null,
      withheldBecause: expect.stringMatching(/a prior set by hand is in that of this pole/),
    });
    const rows = ROWS.map((row, i) => ({ ...row, circumferenceM: 0.8 + i / 100 }));
    const byGirth = publishCalibration(
      fitRelation(rows, { ...PLAIN, predictors: ['circumference'] }),
      PUBLICATION,
    );
    expect(calibrationFromDocument(byGirth).predictModulusOfRupture(stem).modulusOfRupturePa).not.toBeNull();
  });

  it('names the requirement’s modulus only where strength follows from the modulus', () => {
    expect(calibrationFromDocument(publish()).followsModulus).toBe(true);
    const rows = ROWS.map((row, i) => ({ ...row, frequenciesHz: [2 + i / 50, null, null], stemLengthM: 8 }));
    const spec = { ...PLAIN, predictors: ['modulus', 'frequency1'] } as const;
    const ringing = publishCalibration(fitRelation(rows, spec), PUBLICATION);
    expect(calibrationFromDocument(ringing).followsModulus).toBe(false);
  });

  it('is refused, by code, where it is another file, of another version, malformed, or changed', () => {
    const document = publish();
    const codeOf = (content: unknown) => {
      try {
        readCalibrationDocument(content);
        return 'read';
      } catch (error) {
        return (error as { code: string }).code;
      }
    };
    expect(codeOf(document)).toBe('read');
    expect(codeOf(null)).toBe('calibration.format');
    expect(codeOf({ format: 'something else', version: 1 })).toBe('calibration.format');
    expect(codeOf({ ...document, version: 3 })).toBe('calibration.version');
    expect(codeOf({ ...document, author: '' })).toBe('calibration.schema');
    expect(codeOf({ ...document, name: 'Two Words' })).toBe('calibration.schema');
    expect(codeOf({ ...document, extra: 1 })).toBe('calibration.schema');
    expect(codeOf({ ...document, rows: document.rows.slice(1) })).toBe('calibration.hash');
    const { relation, range } = document;
    expect(
      codeOf({ ...document, relation: { ...relation, residualScale: relation.residualScale / 2 } }),
    ).toBe('calibration.refit');
    expect(codeOf({ ...document, relation: { ...relation, degreesOfFreedom: 300 } })).toBe(
      'calibration.refit',
    );
    expect(codeOf({ ...document, range: { ...range, distanceLimit: 99 } })).toBe('calibration.refit');
    expect(codeOf({ ...document, spec: { ...document.spec, species: 'none' } })).toBe('calibration.refit');
    expect(codeOf({ ...document, spec: { ...document.spec, predictors: ['age'] } })).toBe(
      'calibration.refit',
    );
    expect(codeOf({ ...document, relation: { ...relation, notes: ['other words'] } })).toBe('read');
  });

  it('tells which field is wrong and what to do', () => {
    expect(() => readCalibrationDocument({ ...publish(), publishedAt: 'yesterday' })).toThrow(
      /^Calibration, field publishedAt: /,
    );
    const { relation, ...rest } = publish();
    expect(() =>
      readCalibrationDocument({ ...rest, relation: { ...relation, residualScale: 0.01 } }),
    ).toThrow(/relation\.residualScale is 0\.01, and 0\.\d+ by a new fit/);
  });

  it('says what speaks against it, in the file and with every prediction, in its own words whatever the file says', () => {
    const strengths = [44, 52, 39, 55, 47, 41, 58, 45, 50, 43, 57, 49];
    const rows = strengths.map((mpa, i) =>
      makeRow(`${i}`, { modulusPa: (8.5 + i / 2) * 1e9, modulusLogSd: 0.05, strengthPa: mpa * 1e6 }),
    );
    const weak = publishCalibration(fitRelation(rows, PLAIN), PUBLICATION, 3);
    expect(weak.weaknesses!.map(({ id }) => id)).toEqual(['no-better-than-mean', 'arms-not-shortened']);
    const told = calibrationFromDocument(weak).predictModulusOfRupture({
      ...STEM,
      modulusPa: { median: 11e9, logSd: 0.05 },
    });
    expect('warnings' in told && told.warnings.slice(0, 2)).toEqual(weak.weaknesses!.map(({ text }) => text));
    expect(readCalibrationDocument(JSON.parse(JSON.stringify(weak)))).toEqual(weak);
    const [first, arms] = weak.weaknesses!;
    const readWith = (weaknesses: object[] | undefined) =>
      readCalibrationDocument({ ...weak, weaknesses }).weaknesses;
    // by the tests alone nobody can tell how their arms were taken
    expect(readWith([first!])).toEqual([first]);
    expect(readWith([arms!])).toEqual([first, arms]);
    expect(readWith([])).toEqual([first]);
    const soothed = weak.weaknesses!.map(({ id }) => ({ id, text: 'All is well.' }));
    const some = { id: 'arms-not-shortened', text: arms!.text.replace('Of 3 of', 'Of some of') };
    expect(readWith(soothed)).toEqual([first, some]);
    expect(readWith([{ ...arms!, text: arms!.text.replace('Of 3 of', 'Of 99 of') }])).toEqual([first, some]);
    expect(readWith(undefined)?.map(({ id }) => id)).toEqual(['no-better-than-mean', 'not-judged']);
  });

  it('keeps a weakness that another program found, without its words, and reads to the same again', () => {
    const strict = { ...publish(), weaknesses: [{ id: 'specimens', text: 'Stronger than it looks.' }] };
    const read = readCalibrationDocument(strict);
    expect(read.weaknesses).toEqual([
      {
        id: 'specimens',
        text: 'The program that published the calibration found a weakness that this one does not find: specimens.',
      },
    ]);
    expect(readCalibrationDocument(read)).toEqual(read);
    expect(
      readCalibrationDocument({ ...read, weaknesses: [...read.weaknesses!, ...read.weaknesses!] }),
    ).toEqual(read);
  });

  it('of an earlier program opens, holds, and is taken for weak since nobody asked', () => {
    const { weaknesses: _, ...rest } = publish();
    const early = readCalibrationDocument({ ...rest, version: 1 });
    expect(weaknessesOf(early)).toEqual([expect.objectContaining({ id: 'not-judged' })]);
    const told = calibrationFromDocument(early).predictModulusOfRupture({
      ...STEM,
      modulusPa: { median: 11e9, logSd: 0.08 },
    });
    expect('warnings' in told && told.warnings[0]).toMatch(
      /^The calibration was published by an earlier program/,
    );
    // its reach follows from its tests: what lies outside is withheld under it too
    const soft = { ...STEM, modulusPa: { median: 3e9, logSd: 0.08 } };
    expect(calibrationFromDocument(early).predictModulusOfRupture(soft)).toMatchObject({
      withheldBecause: expect.stringContaining('outside of what the tests carry'),
    });
  });

  it('has a hash that does not depend on the order of fields', () => {
    const document = publish();
    const turned = document.rows.map((row) => Object.fromEntries(Object.entries(row).reverse()));
    expect(readCalibrationDocument({ ...document, rows: turned })).toEqual(document);
  });
});

it('the kept JSON Schema is that of the program', () => {
  const file = new URL('../../../core/strength/relation/calibration.schema.json', import.meta.url);
  expect(readFileSync(file, 'utf8')).toBe(formatCalibrationSchema());
});
