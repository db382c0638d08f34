import type { VisitFile } from '../../recording/index.ts';
import type { KeptBreakTest } from './breakTests.repository.ts';

/** Whole lengths come in steps of 1.5 m; a butt sawn off or a tape read badly is less than a third of that (ours). */
const LENGTH_STEP_M = 0.5;
/** Two girths of one pole by two people; poles are not quite round (ours). */
const GIRTH_SHARE = 0.05;
/** Girth that a pole loses per metre of height at most (ours; usual is 0.03). */
const STEEPEST_GIRTH_TAPER = 0.05;
/** The break may come some time after the visit, and years are rounded (ours). */
const YEARS_APART = 2;

/**
 * Holds a broken pole against the visit to the pole of its name: species, length, girth, and years in the ground, each where both
 * state it. Girths are at different heights: what a straight taper explains is no difference.
 * @returns what is not that of one pole, in words; empty where all may be
 */
export function compareWithVisit(
  { row, detail }: KeptBreakTest,
  { pole, measured }: Pick<VisitFile, 'pole' | 'measured'>,
): string[] {
  const differences: string[] = [];
  const tell = (what: string, ofTable: string, ofVisit: string) =>
    differences.push(`${what} ${ofTable} in the table, ${ofVisit} in the visit`);
  if (row.species !== pole.species && row.species !== 'other' && pole.species !== 'other') {
    tell('species', nameWood(row.species), nameWood(pole.species));
  }
  // tests kept by earlier programs have no whole length
  const lengthM = detail.lengthM ?? null;
  if (lengthM !== null && Math.abs(lengthM - pole.lengthM) > LENGTH_STEP_M) {
    tell('length', metres(lengthM), metres(pole.lengthM));
  }
  const lowest = measured.circumferences.reduce((a, b) => (b.heightM < a.heightM ? b : a));
  const leastM = lowest.circumferenceM * (1 - GIRTH_SHARE);
  const mostM = (lowest.circumferenceM + STEEPEST_GIRTH_TAPER * lowest.heightM) * (1 + GIRTH_SHARE);
  if (row.circumferenceM < leastM || row.circumferenceM > mostM) {
    const where = lowest.heightM > 0 ? ` at ${lowest.heightM} m` : '';
    tell('girth', `${metres(row.circumferenceM)} at ground line`, `${metres(lowest.circumferenceM)}${where}`);
  }
  const visitYears = pole.setYear == null ? null : Number(measured.date.slice(0, 4)) - pole.setYear;
  if (row.ageYears !== null && visitYears !== null && Math.abs(row.ageYears - visitYears) > YEARS_APART) {
    tell('years in the ground', String(Math.round(row.ageYears)), String(visitYears));
  }
  return differences;
}

function nameWood(species: string): string {
  return species.replaceAll('-', ' ');
}

function metres(lengthM: number): string {
  return `${lengthM.toFixed(2)} m`;
}
