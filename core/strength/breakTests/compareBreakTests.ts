import type { BreakTestRow } from '../relation/breakTestRow.ts';
import { countArmsNotShortened } from './countArmsNotShortened.ts';
import type { BreakTestDetail } from './readBreakTests.ts';

type Test = { readonly row: BreakTestRow; readonly detail: BreakTestDetail };

/** Tables that state the same in other units differ by rounding. */
const ROUNDING = 1e-6;

const ROW_WORDS: Readonly<Record<Exclude<keyof BreakTestRow, 'id'>, string>> = {
  poleId: 'pole',
  species: 'species',
  treatment: 'treatment',
  modulusPa: 'modulus of elasticity',
  modulusLogSd: 'error of the modulus',
  densityKgPerM3: 'density',
  frequenciesHz: 'frequencies',
  stemLengthM: 'length above ground line',
  circumferenceM: 'girth',
  fixity: 'fixity',
  ageYears: 'years in the ground',
  moisturePercent: 'moisture',
  weight: 'weight of the test',
  piece: 'pole or specimen',
  modulusOfRupturePa: 'modulus of rupture',
  groundlineMomentNm: 'moment at ground line',
};
const DETAIL_WORDS = {
  visit: 'visit',
  lengthM: 'length',
  isSamePole: 'link to the visit',
  kind: 'kind of test',
  breakHeightM: 'height of the break',
} as const satisfies Partial<Record<keyof BreakTestDetail, string>>;

/** Compares two tests of one name. @returns what differs, in words; empty where they tell the same */
export function compareBreakTests(earlier: Test, later: Test): string[] {
  const differences = [
    ...listDifferences(earlier.row, later.row, ROW_WORDS),
    ...listDifferences(earlier.detail, later.detail, DETAIL_WORDS),
  ];
  const [before, now] = [earlier, later].map(({ detail }) => countArmsNotShortened([detail]));
  return before === now ? differences : [...differences, 'shortening of the arm'];
}

function listDifferences<T>(earlier: T, later: T, words: Partial<Record<keyof T, string>>): string[] {
  return (
    (Object.keys(words) as (keyof T)[])
      // tests kept by earlier programs lack some
      .filter((key) => earlier[key] !== undefined && !isSame(earlier[key], later[key]))
      .map((key) => words[key]!)
  );
}

function isSame(a: unknown, b: unknown): boolean {
  if (Array.isArray(a) && Array.isArray(b)) return a.every((value, i) => isSame(value, b[i]));
  if (typeof a !== 'number' || typeof b !== 'number') return a === b;
  return Math.abs(a - b) <= ROUNDING * Math.abs(a);
}
