/** A pole changed in thought: directions that mechanics demands, on one invented sample. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type AnalysedVisit, analyseVisit } from '../core/assess.ts';
import { parseVisitFile } from '../core/recording/index.ts';
import { predictChange } from '../core/whatIf.ts';
import { makeSamples } from '../samples/make.ts';

const folder = mkdtempSync(join(tmpdir(), 'stemroot-what-if-'));
let analysed: AnalysedVisit;

beforeAll(() => {
  makeSamples(folder);
  const name = 'KV-0107-2026.visit.json';
  const visit = parseVisitFile(readFileSync(join(folder, 'visits', name), 'utf8'), name);
  const recordings = new Map(
    visit.recordings.map(({ file }) => [file, new Uint8Array(readFileSync(join(folder, 'visits', file)))]),
  );
  analysed = analyseVisit({ visitName: name, visit, recordings });
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true, force: true }));

const firstModes = (change: Parameters<typeof predictChange>[2]) => {
  const { planes } = predictChange(analysed, [], change, 80);
  return planes.map(({ fittedHz, changedHz }) => changedHz.map((f, i) => f / fittedHz[i]!));
};

test('no change changes nothing', () => {
  for (const ratios of firstModes({})) for (const ratio of ratios) expect(ratio).toBeCloseTo(1, 9);
});

test('a looser root lowers mode 1 most', () => {
  for (const [f1, f2] of firstModes({ fixity: 1 })) {
    expect(f1).toBeLessThan(0.8);
    expect(f2).toBeGreaterThan(f1!);
  }
});

test('a mass near the tip lowers every mode a little and mode 1 much', () => {
  for (const [f1, f2] of firstModes({ addedMass: { heightM: 7, massKg: 60 } })) {
    expect(f1).toBeLessThan(0.95);
    expect(f2).toBeLessThan(1);
  }
});

test('a cable three times as stiff raises its own plane', () => {
  const raised = firstModes({ cableFactor: 3 }).map(([f1]) => f1!);
  expect(Math.max(...raised)).toBeGreaterThan(1.01);
  expect(Math.min(...raised)).toBeGreaterThanOrEqual(1);
});

test('responses peak at the frequencies', () => {
  const { frequenciesHz, planes } = predictChange(analysed, [], { fixity: 3 }, 80);
  const [{ changedHz, changedResponse }] = planes as [(typeof planes)[number]];
  const near = frequenciesHz.map((f, i) => (Math.abs(f - changedHz[1]!) < 2 ? changedResponse[i]! : 0));
  const peakHz = frequenciesHz[near.indexOf(Math.max(...near))]!;
  expect(Math.abs(peakHz - changedHz[1]!)).toBeLessThan(0.15);
});

test('a depth that no pole has is refused', () => {
  expect(() => predictChange(analysed, [], { settingDepthM: 8 }, 80)).toThrow(/not below half of the length/);
});
