import type { z } from 'zod';
import type { registerQuerySchema } from '../contract/registerCalls.ts';
import type { IndexedRow, Register } from './registerIndex.ts';
import { sortRows } from './sortRows.ts';

export type RegisterQuery = z.output<typeof registerQuerySchema>;
type Count = { value: string; visits: number };
type Counts = { reasons: Count[]; verdicts: Count[]; species: Count[] };

export type RegisterSearch = {
  /** Rows that a query asks for, in its order. */
  find(register: Register, query: RegisterQuery): readonly IndexedRow[];
  /** How many visits have each reason, verdict and species, over the whole register. */
  count(register: Register): Counts;
};

/** Searches a register. Orders, and what was found last, are kept until the register changes: a scrolled view asks for the same again. */
export function createRegisterSearch(): RegisterSearch {
  let revision = -1;
  let counts: Counts | null = null;
  let last: { key: string; rows: readonly IndexedRow[] } | null = null;
  const orders = new Map<string, readonly IndexedRow[]>();

  function follow(register: Register): void {
    if (register.revision === revision) return;
    revision = register.revision;
    counts = null;
    last = null;
    orders.clear();
  }

  function inOrder(register: Register, { key, descending }: RegisterQuery['sort']): readonly IndexedRow[] {
    const name = `${key} ${descending}`;
    const rows = orders.get(name) ?? sortRows(register.rows, key, descending);
    orders.set(name, rows);
    return rows;
  }

  return {
    find(register, query) {
      follow(register);
      const key = JSON.stringify(query);
      if (last?.key !== key) {
        const tests = listTests(query);
        const ordered = inOrder(register, query.sort);
        const rows = tests.length === 0 ? ordered : ordered.filter((row) => tests.every((test) => test(row)));
        last = { key, rows };
      }
      return last.rows;
    },
    count(register) {
      follow(register);
      counts ??= countRows(register.rows);
      return counts;
    },
  };
}

/** What a row must pass, the quickest first; none for a query that asks for all. */
function listTests(query: RegisterQuery): ((indexed: IndexedRow) => boolean)[] {
  const tests: ((indexed: IndexedRow) => boolean)[] = [];
  if (query.ruled !== 'any') tests.push(({ row }) => (query.ruled === 'ruled') === (row.ruling !== null));
  if (query.latestOnly) tests.push(({ row }) => row.standing === 'latest');
  if (query.verdicts.length > 0) tests.push(({ row }) => query.verdicts.includes(row.verdict));
  if (query.species.length > 0) tests.push(({ row }) => query.species.includes(row.species));
  if (query.reasons.length > 0) {
    tests.push(({ row }) => row.need.reasons.some(({ kind }) => query.reasons.includes(kind)));
  }
  for (const word of query.search.toLowerCase().split(/\s+/).filter(Boolean)) {
    tests.push(({ text }) => text.includes(word));
  }
  return tests;
}

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
