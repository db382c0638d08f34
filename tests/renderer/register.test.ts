import { expect, test } from 'vitest';
import { arrangeRows } from '../../renderer/register/arrangeRows.ts';
import { needOfLook } from '../../renderer/register/needOfLook.ts';
import type { RegisterRow } from '../../renderer/types.ts';

const sound: RegisterRow = {
  visitId: 1,
  poleId: 'P-2',
  species: 'southern-pine',
  classCode: '4',
  lengthM: 9.14,
  date: '2026-05-03',
  verdict: 'assessed',
  frequenciesHz: [2, 10, 27],
  modulusPa: 1e10,
  fixity: 6,
  identifiability: 'separated',
  capacityNm: { value: 9e4, low: 7e4, high: 1.2e5 },
  requirementNm: 5e4,
  chanceBelow: 0.01,
  findings: [],
  ruling: null,
};
const doubtful = { ...sound, visitId: 2, poleId: 'P-10', chanceBelow: 0.5 };
const weak = { ...sound, visitId: 3, poleId: 'P-3', chanceBelow: 0.99, frequenciesHz: [null, 9, 25] };
const withheld = { ...sound, visitId: 4, poleId: 'P-4', verdict: 'withheld' as const, chanceBelow: null };
const ruling = {
  rulingId: 1,
  decidedAt: '2026-05-04T08:00:00Z',
  analyst: 'A',
  decision: 'watch' as const,
  reason: 'r',
  assessmentId: 1,
};
const rows = [sound, doubtful, weak, withheld];
const order = (sorted: readonly RegisterRow[]) => sorted.map((row) => row.poleId);

test('what waits for a person comes first, and the words say why', () => {
  const sorted = arrangeRows(rows, '', { key: 'need', descending: true });
  expect(order(sorted)).toEqual(['P-4', 'P-3', 'P-10', 'P-2']);
  expect(sorted.map((row) => row.need.because)).toEqual([
    'result withheld',
    'below requirement',
    'crosses requirement',
    'nothing odd',
  ]);
});

test('by need: withheld first, then by the chance below, then what was not assessed, then the rest', () => {
  const finding = (id: string) => ({ id, text: id });
  const scores = [
    { ...sound, verdict: 'failed' as const, chanceBelow: null },
    withheld,
    weak,
    { ...doubtful, chanceBelow: 0.6 },
    { ...doubtful, findings: ['a', 'b', 'c', 'd', 'e', 'f', 'g'].map(finding) },
    { ...sound, verdict: 'not assessed' as const, chanceBelow: null },
    { ...sound, findings: [finding('soft-root')] },
    sound,
  ].map((row) => needOfLook(row).score);
  expect(scores).toEqual([...scores].sort((a, b) => b - a));
  expect(new Set(scores).size).toBe(scores.length);
});

test('a finding that nearly every pole has sets none apart', () => {
  const common = { ...sound, findings: [{ id: 'section-not-inspected', text: '' }] };
  expect(needOfLook(common)).toEqual(needOfLook(sound));
});

test('a ruling settles a visit below all that wait', () => {
  expect(needOfLook({ ...withheld, ruling }).score).toBeLessThan(needOfLook(sound).score);
});

test('names sort by their numbers, and rows without a value come last either way', () => {
  expect(order(arrangeRows(rows, '', { key: 'pole', descending: false }))).toEqual([
    'P-2',
    'P-3',
    'P-4',
    'P-10',
  ]);
  expect(order(arrangeRows(rows, '', { key: 'f1', descending: true })).at(-1)).toBe('P-3');
  expect(order(arrangeRows(rows, '', { key: 'f1', descending: false })).at(-1)).toBe('P-3');
});

test('a search keeps rows that hold every word, in any order and case', () => {
  expect(order(arrangeRows(rows, 'WITHHELD pine', { key: 'pole', descending: false }))).toEqual(['P-4']);
  expect(arrangeRows(rows, 'withheld oak', { key: 'pole', descending: false })).toEqual([]);
});
