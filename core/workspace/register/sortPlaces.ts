import type { RegisterRow } from '../contract.ts';

export type SortKey =
  | 'need'
  | 'pole'
  | 'date'
  | 'verdict'
  | 'f1'
  | 'f2'
  | 'f3'
  | 'modulus'
  | 'fixity'
  | 'capacity'
  | 'requirement'
  | 'chance'
  | 'threshold'
  | 'thresholdChance'
  | 'ruling';

/**
 * Places of rows in the order of one of their values. Rows without a value come last either way; equal ones stay by
 * pole and date.
 * @param rows - by pole and date
 * @param before - places as they were sorted before a few rows changed: sorting from there is many times quicker
 */
export function sortPlaces(
  rows: readonly RegisterRow[],
  key: SortKey,
  descending: boolean,
  before?: Uint32Array,
): Uint32Array {
  const places =
    before?.length === rows.length ? before.slice() : Uint32Array.from(rows, (_, place) => place);
  if (key === 'pole') return places.sort((a, b) => (descending ? b - a : a - b));
  // numbers side by side in memory sort several times faster than rows do
  const values = readValues(rows, VALUES[key]);
  const turn = descending ? -1 : 1;
  return places.sort((a, b) => {
    const [x, y] = [values[a]!, values[b]!];
    if (x === y) return a - b;
    if (Number.isNaN(x)) return Number.isNaN(y) ? a - b : 1;
    if (Number.isNaN(y)) return -1;
    return x < y ? -turn : turn;
  });
}

/** One number a row; texts by their rank among all texts, NaN where there is no value. */
function readValues(
  rows: readonly RegisterRow[],
  read: (row: RegisterRow) => string | number | null,
): Float64Array {
  const raw = rows.map(read);
  const texts = [...new Set(raw.filter((value) => typeof value === 'string'))].sort();
  const ranks = new Map(texts.map((text, rank) => [text, rank]));
  return Float64Array.from(raw, (value) =>
    value === null ? Number.NaN : typeof value === 'string' ? ranks.get(value)! : value,
  );
}

const VALUES: Record<Exclude<SortKey, 'pole'>, (row: RegisterRow) => string | number | null> = {
  need: (row) => row.need.score,
  date: (row) => row.date,
  verdict: (row) => row.verdict,
  f1: (row) => row.frequenciesHz[0] ?? null,
  f2: (row) => row.frequenciesHz[1] ?? null,
  f3: (row) => row.frequenciesHz[2] ?? null,
  modulus: (row) => row.modulusPa,
  fixity: (row) => row.fixity,
  capacity: (row) => row.capacityNm?.value ?? null,
  requirement: (row) => row.requirementNm,
  chance: (row) => row.chanceBelow,
  threshold: (row) =>
    row.capacityNm !== null && row.thresholdNm !== null ? row.capacityNm.value / row.thresholdNm : null,
  thresholdChance: (row) => row.chanceBelowThreshold,
  ruling: (row) => row.ruling?.decidedAt ?? null,
};
