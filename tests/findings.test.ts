/**
 * Findings on what was written down wrongly, on one invented sample visit: a pole of class 4 and 35 ft, whose girth is just above
 * the least of its class. What counts is what is told of a slip.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type AnalysedVisit, analyseVisit, concludeVisit } from '../core/assess.ts';
import { parseVisitFile, type VisitFile } from '../core/recording/index.ts';
import { densityPrior } from '../core/wood/index.ts';
import { makeSamples } from '../samples/make.ts';

const folder = mkdtempSync(join(tmpdir(), 'stemroot-findings-'));
const NAME = 'KV-0104-2026.visit.json';
let visit: VisitFile;
let analysed: AnalysedVisit;

beforeAll(() => {
  makeSamples(folder);
  visit = parseVisitFile(readFileSync(join(folder, 'visits', NAME), 'utf8'), NAME);
  const recordings = new Map(
    visit.recordings.map(({ file }) => [file, new Uint8Array(readFileSync(join(folder, 'visits', file)))]),
  );
  analysed = analyseVisit({ visitName: NAME, visit, recordings });
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Findings where the visit had been written down so; the recordings are the same. */
function findingsOf(changed: VisitFile): Map<string, string> {
  const again = analyseVisit({ ...analysed.input, visit: changed }, [], analysed.judgement);
  return new Map(concludeVisit(again, []).assessment.findings.map(({ id, text }) => [id, text]));
}

function withGirths(factor: number): VisitFile {
  const circumferences = visit.measured.circumferences.map((girth) => ({
    ...girth,
    circumferenceM: girth.circumferenceM * factor,
  }));
  return { ...visit, measured: { ...visit.measured, circumferences } };
}

test('a girth of its class is no finding', () => {
  expect(findingsOf(visit).has('girth-off-class')).toBe(false);
});

test('a girth 13 % too large is one, with the range of the class', () => {
  expect(findingsOf(withGirths(1.13)).get('girth-off-class')).toMatch(
    /^Girth near the ground is 0\.9\d m, where poles of class 4 of this length have 0\.80 m to 0\.86 m/,
  );
});

test('a girth 13 % too small is one', () => {
  expect(findingsOf(withGirths(0.87)).has('girth-off-class')).toBe(true);
});

test('a girth that no class checks is said to be unchecked', () => {
  const without = { ...visit, pole: { ...visit.pole, classCode: null } };
  expect(findingsOf(visit).has('girth-unchecked')).toBe(false);
  expect(findingsOf(without).get('girth-unchecked')).toMatch(/Tape it again, and state the class\.$/);
});

/** The visit with a density this many times the middle of what its species weighs at its moisture. */
function withDensity(factor: number): VisitFile {
  const { medianKgPerM3 } = densityPrior(visit.pole.species, visit.measured.moisturePercent ?? null);
  return { ...visit, measured: { ...visit.measured, densityKgPerM3: factor * medianKgPerM3 } };
}

test('a density far off its species at that moisture is told, farther off no strength is', () => {
  const densityOf = (factor: number) => {
    const again = analyseVisit({ ...analysed.input, visit: withDensity(factor) }, [], analysed.judgement);
    const { strength, findings } = concludeVisit(again, []).assessment;
    return { strength, off: findings.find(({ id }) => id === 'density-off-species') };
  };
  expect(densityOf(1.1).off).toBeUndefined();
  const told = densityOf(1.4).off;
  expect(told?.text).toMatch(
    /^A density of \d+ kg\/m³ was measured, where wood of this species weighs \d+ kg\/m³ to \d+ kg\/m³ at .* moisture\./,
  );
  expect(told?.advice).toBeUndefined();
  for (const factor of [0.5, 2]) {
    const { strength, off } = densityOf(factor);
    expect(strength).toBeNull();
    expect(off?.advice).toBe('Check density, moisture and species.');
  }
});

test('a density set by hand stands in for the one measured, and is held against the species as that is', () => {
  const slip = withDensity(2);
  const offBy = (share: number) => {
    const priors = { densityKgPerM3: { median: slip.measured.densityKgPerM3! * share, logSd: 0.02 } };
    return findingsOf({ ...slip, options: { ...slip.options, priors } }).get('density-off-species');
  };
  expect(offBy(0.5)).toBeUndefined();
  expect(offBy(1)).toMatch(/kg\/m³ was set by hand, where/);
});

/** The girths of a pole of its class all the way up, and the same where each was measured across the pole. */
function withDiameters(attachments: VisitFile['measured']['attachments']): VisitFile {
  const across = withGirths(1 / Math.PI);
  const top = { topCircumferenceM: 0.55 / Math.PI, attachments };
  return { ...across, measured: { ...across.measured, ...top } };
}

test('a diameter written for the girth is told as one, and no capacity rests on it', () => {
  const changed = withDiameters([]);
  const again = analyseVisit({ ...analysed.input, visit: changed }, [], analysed.judgement);
  const { assessment } = concludeVisit(again, []);
  expect(assessment.verdict).toBe('withheld');
  expect(assessment.strength).toBeNull();
  expect(assessment.findings.find(({ id }) => id === 'girth-off-class')?.text).toContain(
    'That may be the diameter, written for the girth.',
  );
});

test('a pole so thin that it would fall is told by its girth, where a class says what that should be', () => {
  const loaded = withDiameters([{ heightM: 8, massKg: 300, kind: 'transformer' }]);
  const said = (changed: VisitFile) => () =>
    analyseVisit({ ...analysed.input, visit: changed }, [], analysed.judgement);
  expect(said(loaded)).toThrow(/could not carry its own weight.*class 4 of this length.*may be the diameter/);
  expect(said({ ...loaded, pole: { ...loaded.pole, classCode: null } })).toThrow(/too slender to carry/);
});

test('a pole that falls only under a wide prior of its modulus is told by that', () => {
  const attachments = [{ heightM: 8, massKg: 300, kind: 'transformer' }];
  const loaded = { ...visit, measured: { ...visit.measured, attachments } };
  const said = (changed: VisitFile) => () =>
    analyseVisit({ ...analysed.input, visit: changed }, [], analysed.judgement);
  expect(said(loaded)).not.toThrow();
  const priors = { modulusPa: { median: 11.5e9, logSd: 1.5 } };
  expect(said({ ...loaded, options: { priors } })).toThrow(
    /^The prior set for the stem modulus \(11\.5 GPa, logSd 1\.5\) reaches so low/,
  );
});

test('a length in feet read as metres is one, with what it would be in feet', () => {
  const thick = withGirths(2);
  const long = { ...thick, pole: { ...visit.pole, lengthM: 35, classCode: null } };
  expect(findingsOf(long).get('long-pole')).toContain('35.0 m, which is long for a pole; 10.7 m where');
});
