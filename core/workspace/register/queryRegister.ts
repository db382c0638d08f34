import type { z } from 'zod';
import type { registerQuerySchema } from '../contract/registerCalls.ts';
import type { RegisterRow } from '../contract.ts';
import type { IndexedRow, Register } from './registerIndex.ts';

export type RegisterQuery = z.output<typeof registerQuerySchema>;
type SortKey = RegisterQuery['sort']['key'];
type Count = { value: string; visits: number };

export type Counts = { reasons: Count[]; verdicts: Count[]; species: Count[] };

export type RegisterSearch = {
  /** Rows that a query asks for, in its order. */
  find(register: Register, query: RegisterQuery): readonly IndexedRow[];
  /** How many visits have each reason, verdict and species, over the whole register. */
  count(register: Register): Counts;
};

/** Searches a register. Orders are kept from one query to the next and only mended after a change, so that both are quick. */
export function createRegisterSearch(): RegisterSearch {
  const orders = new Map<string, { revision: number; rows: readonly IndexedRow[] }>();
  let counted: { revision: number; counts: Counts } | null = null;

  function inOrder(register: Register, { key, descending }: RegisterQuery['sort']): readonly IndexedRow[] {
    const name = `${key} ${descending}`;
    const known = orders.get(name);
    if (known?.revision === register.revision) return known.rows;
    const rows = sortRows(register.rows, key, descending);
    orders.set(name, { revision: register.revision, rows });
    return rows;
  }

  return {
    find(register, query) {
      const words = query.search.toLowerCase().split(/\s+/).filter(Boolean);
      const reasons = new Set<string>(query.reasons);
      const verdicts = new Set<string>(query.verdicts);
      const species = new Set(query.species);
      return inOrder(register, query.sort).filter(
        ({ row, text }) =>
          (query.ruled === 'any' || (query.ruled === 'ruled') === (row.ruling !== null)) &&
          (!query.latestOnly || row.standing === 'latest') &&
          (verdicts.size === 0 || verdicts.has(row.verdict)) &&
          (species.size === 0 || species.has(row.species)) &&
          (reasons.size === 0 || row.need.reasons.some(({ kind }) => reasons.has(kind))) &&
          words.every((word) => text.includes(word)),
      );
    },
    count(register) {
      if (counted?.revision !== register.revision) {
        counted = { revision: register.revision, counts: countRows(register.rows) };
      }
      return counted.counts;
    },
  };
}

/** Rows without a value come last either way; equal ones stay by pole and date. */
function sortRows(rows: readonly IndexedRow[], key: SortKey, descending: boolean): IndexedRow[] {
  if (key === 'pole') return descending ? [...rows].reverse() : [...rows];
  const read = VALUES[key];
  const valued = rows.map((indexed, place) => ({ indexed, place, value: read(indexed.row) }));
  const turn = descending ? -1 : 1;
  return valued
    .sort((a, b) => {
      if (a.value === b.value) return a.place - b.place;
      if (a.value === null) return 1;
      if (b.value === null) return -1;
      return a.value < b.value ? -turn : turn;
    })
    .map(({ indexed }) => indexed);
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

function countRows(rows: readonly IndexedRow[]): Counts {
  const reasons = new Map<string, number>();
  const verdicts = new Map<string, number>();
  const species = new Map<string, number>();
  const add = (to: Map<string, number>, value: string) => to.set(value, (to.get(value) ?? 0) + 1);
  for (const { row } of rows) {
    add(verdicts, row.verdict);
    add(species, row.species);
    for (const kind of new Set(row.need.reasons.map((reason) => reason.kind))) add(reasons, kind);
  }
  const list = (of: Map<string, number>) =>
    [...of].map(([value, visits]) => ({ value, visits })).sort((a, b) => b.visits - a.visits);
  return { reasons: list(reasons), verdicts: list(verdicts), species: list(species) };
}
