import type { BreakTestRow } from '../relation/breakTestRow.ts';
import { countArmsNotShortened } from './countArmsNotShortened.ts';
import { type BreakTestDetail, nameByLine } from './readBreakTests.ts';

type Test = { readonly row: BreakTestRow; readonly detail: BreakTestDetail };

/** Tables that state the same in other units differ by rounding. */
const ROUNDING = 1e-6;

const NAME_WORDS = { poleId: 'pole', piece: 'pole or specimen' } as const;
const ROW_WORDS: Readonly<Record<Exclude<keyof BreakTestRow, 'id' | keyof typeof NAME_WORDS>, string>> = {
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

/** Compares two tests of one specimen. @returns what differs, in words; empty where they tell the same */
export function compareBreakTests(earlier: Test, later: Test): string[] {
  const differences = [
    ...(isNamed(earlier) && isNamed(later) ? listDifferences(earlier.row, later.row, NAME_WORDS) : []),
    ...listDifferences(earlier.row, later.row, ROW_WORDS),
    ...listDifferences(earlier.detail, later.detail, DETAIL_WORDS),
  ];
  const [before, now] = [earlier, later].map(({ detail }) => countArmsNotShortened([detail]));
  return before === now ? differences : [...differences, 'shortening of the arm'];
}

/** Whether its table names it; another goes by the number of its line. */
export function isNamed({ detail: { id, line } }: Test): boolean {
  return id !== nameByLine(line);
}

/** Whether one break is told: of a section so wide, at that moment and stress. Two specimens hardly agree in all digits of these. */
export function tellsSameBreak({ row: a }: Pick<Test, 'row'>, { row: b }: Pick<Test, 'row'>): boolean {
  return (
    isSame(a.modulusOfRupturePa, b.modulusOfRupturePa) &&
    isSame(a.groundlineMomentNm, b.groundlineMomentNm) &&
    isSame(a.circumferenceM, b.circumferenceM)
  );
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
  if (Array.isArray(a) && Array.isArray(b)) {
    return a.length === b.length && a.every((value, i) => isSame(value, b[i]));
  }
  if (typeof a !== 'number' || typeof b !== 'number') return a === b;
  return Math.abs(a - b) <= ROUNDING * Math.abs(a);
}
