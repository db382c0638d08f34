/**
 * The whole chain over the invented samples, whose truth is known: recovery, not validation. The samples come from
 * finite elements that share no code with the program's own model.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { analyseVisit, assessVisit, concludeVisit } from '../core/assess.ts';
import { type Assessment, assessmentSchema, stemRootPictureSchema } from '../core/assessment.ts';
import { CAUTIONS } from '../core/cautions.ts';
import { concludeOnStrength } from '../core/concludeOnStrength.ts';
import type { VisitInput } from '../core/readRecordings.ts';
import { parseVisitFile } from '../core/recording/index.ts';
import { RESULT_DIGITS, roundNumbers } from '../core/roundNumbers.ts';
import { handbookCalibration } from '../core/strength/index.ts';
import { makeSamples } from '../samples/make.ts';

type Truth = {
  visits: {
    visit: string;
    noResultExpected: boolean;
    localDecay: object | null;
    stem: { modulusPa: number };
    root: { rotationalStiffnessNmPerRad: number };
    planes: { azimuthDeg: number; modes: { number: number; frequencyHz: number }[] }[];
  }[];
};

const folder = mkdtempSync(join(tmpdir(), 'stemroot-assess-'));
let truth: Truth['visits'];
let results: Map<string, Assessment>;

function readInput(name: string): VisitInput {
  const visit = parseVisitFile(readFileSync(join(folder, 'visits', name), 'utf8'), name);
  const recordings = new Map(
    visit.recordings.map(({ file }) => [file, new Uint8Array(readFileSync(join(folder, 'visits', file)))]),
  );
  return { visitName: name, visit, recordings };
}

beforeAll(() => {
  makeSamples(folder);
  truth = (JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8')) as Truth).visits;
  results = new Map(truth.map(({ visit }) => [visit, assessVisit(readInput(visit)).assessment]));
}, 180_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('over all samples', () => {
  test('every result has the form that the contract states', () => {
    for (const result of results.values()) expect(assessmentSchema.parse(result)).toEqual(result);
  });

  test('strength follows from what the result tells, digit for digit', () => {
    for (const [name, result] of results) {
      const { requiredModulusPa: _, ...conclusion } = concludeOnStrength(
        readInput(name).visit,
        result,
        handbookCalibration,
      );
      expect(roundNumbers(conclusion, RESULT_DIGITS), name).toEqual({
        verdict: result.verdict,
        withheldBecause: result.withheldBecause,
        withheldBy: result.withheldBy,
        strength: result.strength,
        requirement: result.requirement,
      });
    }
  });

  test('no visit with only faulty blows is assessed', () => {
    const hopeless = truth.filter((t) => t.noResultExpected);
    expect(hopeless.length).toBeGreaterThanOrEqual(3);
    for (const { visit } of hopeless) {
      const result = results.get(visit)!;
      expect(result.verdict, visit).toBe('withheld');
      expect(result.withheldBecause).toMatch(/strikes can be used/);
      expect(result.strength).toBeNull();
      expect(result.requirement?.chanceBelow ?? null).toBeNull();
    }
  });

  test('the stem modulus lies in its 90 % interval on most poles without local decay', () => {
    const sound = truth.filter((t) => t.localDecay === null && results.get(t.visit)!.verdict === 'assessed');
    const held = sound.filter(({ visit, stem }) => {
      const { low, high } = results.get(visit)!.stem!.modulusPa;
      return low <= stem.modulusPa && stem.modulusPa <= high;
    });
    expect(sound.length).toBeGreaterThanOrEqual(25);
    // 90 % intervals: of 30 poles fewer than 23 would come about by chance once in a hundred
    expect(held.length / sound.length).toBeGreaterThan(0.77);
    expect(held.length).toBeGreaterThanOrEqual(20);
  });

  test('the root stiffness lies in its 90 % interval likewise', () => {
    const sound = truth.filter((t) => t.localDecay === null && results.get(t.visit)!.verdict === 'assessed');
    const held = sound.filter(({ visit, root }) => {
      const { low, high } = results.get(visit)!.root!.rotationalStiffnessNmPerRad;
      return low <= root.rotationalStiffnessNmPerRad && root.rotationalStiffnessNmPerRad <= high;
    });
    expect(held.length / sound.length).toBeGreaterThan(0.77);
  });

  test('picks that carry a number are the true modes', () => {
    let picks = 0;
    let wrong = 0;
    for (const { visit, planes } of truth) {
      for (const mode of results.get(visit)!.modes) {
        const wanted = planes[mode.plane]!.modes.find(({ number }) => number === mode.number);
        picks++;
        if (!wanted || Math.abs(mode.frequencyHz.value / wanted.frequencyHz - 1) > 0.02) wrong++;
      }
    }
    expect(picks).toBeGreaterThan(200);
    expect(wrong / picks).toBeLessThan(0.02);
  });

  test('cautions go with every result', () => {
    for (const result of results.values()) expect(result.cautions).toEqual(CAUTIONS);
  });
});

describe('one visit', () => {
  const name = 'KV-0101-2026.visit.json';

  test('gives the same bytes twice', () => {
    expect(JSON.stringify(assessVisit(readInput(name)))).toBe(JSON.stringify(assessVisit(readInput(name))));
  });

  test('has a picture of the form that the contract states', () => {
    const { picture } = assessVisit(readInput(name));
    expect(stemRootPictureSchema.parse(picture)).toEqual(picture);
    expect(Math.max(...picture!.density.flat())).toBe(1);
    const [half, most] = picture!.credibleLevels;
    expect(half!.density).toBeGreaterThan(most!.density);
  });

  test('a pick set by an analyst is confirmed, moves with its frequency and changes the hash', () => {
    const analysed = analyseVisit(readInput(name));
    const before = concludeVisit(analysed, []).assessment;
    const second = before.modes.find((mode) => mode.plane === 0 && mode.number === 2)!;
    const confirmed = concludeVisit(analysed, [
      { plane: 0, number: 2, frequencyHz: second.frequencyHz.value },
    ]).assessment;
    const mode = confirmed.modes.find((m) => m.plane === 0 && m.number === 2)!;
    expect(mode).toMatchObject({ status: 'confirmed', source: 'analyst' });
    expect(mode.frequencyHz.value).toBeCloseTo(second.frequencyHz.value, 2);
    expect(confirmed.modes).toHaveLength(before.modes.length);
    expect(confirmed.provenance.inputsSha256).not.toBe(before.provenance.inputsSha256);
  });

  test('a refused mode no longer counts', () => {
    const analysed = analyseVisit(readInput(name));
    const refused = concludeVisit(analysed, [{ plane: 1, number: 3, frequencyHz: null }]).assessment;
    expect(refused.modes.some((mode) => mode.plane === 1 && mode.number === 3)).toBe(false);
    expect(refused.modes.some((mode) => mode.plane === 0 && mode.number === 3)).toBe(true);
  });

  test('with all modes but one refused is withheld and says what would help', () => {
    const analysed = analyseVisit(readInput(name));
    const { modes } = concludeVisit(analysed, []).assessment;
    const refuseAllButFirst = modes
      .filter((mode) => mode.number !== 1)
      .map(({ plane, number }) => ({ plane, number, frequencyHz: null }));
    const result = concludeVisit(analysed, refuseAllButFirst).assessment;
    expect(result.verdict).toBe('withheld');
    expect(result.withheldBecause).toMatch(/cannot separate stem from root.*Mode 2 was refused/);
    expect(result.strength).toBeNull();
  });

  test('names a recording that is not there', () => {
    const input = readInput(name);
    expect(() => assessVisit({ ...input, recordings: new Map() })).toThrow(
      /KV-0101-2026-hammer.wav" is not there/,
    );
  });

  test('compares with the class where no requirement is given, and with the given one where it is', () => {
    const input = readInput(name);
    const byClass = assessVisit(input).assessment.requirement!;
    expect(byClass.source).toMatch(/Class/);
    const given = { groundlineMomentNm: 12345, source: 'line design' };
    const asked = assessVisit({ ...input, visit: { ...input.visit, requirement: given } }).assessment
      .requirement!;
    expect(asked.groundlineMomentNm).toBe(12345);
    expect(asked.source).toBe('line design');
    expect(asked.chanceBelow!).toBeLessThan(byClass.chanceBelow!);
  });
});
