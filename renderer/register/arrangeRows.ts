import type { SortKey } from '../state/store.ts';
import type { RegisterRow } from '../types.ts';
import { describeSpecies } from '../words/index.ts';
import { type Need, needOfLook } from './needOfLook.ts';

export type ArrangedRow = RegisterRow & { need: Need };

/** Rows that hold every word of the search, in the order asked for; rows without a value come last. */
export function arrangeRows(
  rows: readonly RegisterRow[],
  search: string,
  sort: { key: SortKey; descending: boolean },
): ArrangedRow[] {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  return rows
    .map((row) => ({ ...row, need: needOfLook(row) }))
    .filter((row) => words.every((word) => textOf(row).includes(word)))
    .sort((a, b) => compare(sortValue(a, sort.key), sortValue(b, sort.key), sort.descending) || byName(a, b));
}

function textOf(row: ArrangedRow): string {
  return [
    row.poleId,
    describeSpecies(row.species),
    row.classCode ? `class ${row.classCode}` : '',
    row.date,
    row.verdict,
    row.need.because,
    row.ruling?.decision ?? '',
    row.ruling?.analyst ?? '',
    ...row.findings.map((finding) => `${finding.id} ${finding.text}`),
  ]
    .join(' ')
    .toLowerCase();
}

function sortValue(row: ArrangedRow, key: SortKey): string | number | null {
  switch (key) {
    case 'need':
      return row.need.score;
    case 'pole':
      return row.poleId;
    case 'date':
      return row.date;
    case 'verdict':
      return row.verdict;
    case 'f1':
    case 'f2':
    case 'f3':
      return row.frequenciesHz[Number(key[1]) - 1] ?? null;
    case 'modulus':
      return row.modulusPa;
    case 'fixity':
      return row.fixity;
    case 'capacity':
      return row.capacityNm?.value ?? null;
    case 'requirement':
      return row.requirementNm;
    case 'chance':
      return row.chanceBelow;
    case 'ruling':
      return row.ruling?.decidedAt ?? null;
  }
}

function compare(a: string | number | null, b: string | number | null, descending: boolean): number {
  if (a === null || b === null) return Number(a === null) - Number(b === null);
  const order =
    typeof a === 'number' && typeof b === 'number'
      ? a - b
      : String(a).localeCompare(String(b), 'en', { numeric: true });
  return descending ? -order : order;
}

function byName(a: ArrangedRow, b: ArrangedRow): number {
  return a.poleId.localeCompare(b.poleId, 'en', { numeric: true }) || a.date.localeCompare(b.date);
}
