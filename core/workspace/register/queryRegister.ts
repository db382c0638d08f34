import type { z } from 'zod';
import type { registerQuerySchema } from '../contract/registerCalls.ts';
import type { RegisterRow } from '../contract.ts';
import { type FilterColumns, readColumns, reasonBits } from './columns.ts';
import type { Register } from './registerIndex.ts';
import { sortPlaces } from './sortPlaces.ts';

export type RegisterQuery = z.output<typeof registerQuerySchema>;
type Count = { value: string; visits: number };
type Counts = { reasons: Count[]; verdicts: Count[]; species: Count[] };
/** Whether the row at a place passes. */
type Test = (place: number) => boolean;

export type RegisterSearch = {
  /** Places, among the rows of the register, of those that a query asks for, in its order. */
  find(register: Register, query: RegisterQuery): Uint32Array;
  /** How many visits have each reason, verdict and species, over the whole register. */
  count(register: Register): Counts;
};

/**
 * Searches a register. Orders and what was found last are kept until the register changes: a view that scrolls asks for
 * the same again. After a change, orders are mended from what they were.
 */
export function createRegisterSearch(): RegisterSearch {
  let revision = -1;
  let columns: FilterColumns | null = null;
  let counts: Counts | null = null;
  let last: { key: string; places: Uint32Array } | null = null;
  const orders = new Map<string, { revision: number; places: Uint32Array }>();

  function follow(register: Register): void {
    if (register.revision === revision) return;
    revision = register.revision;
    columns = null;
    counts = null;
    last = null;
  }

  function inOrder({ rows }: Register, { key, descending }: RegisterQuery['sort']): Uint32Array {
    const name = `${key} ${descending}`;
    const known = orders.get(name);
    if (known?.revision === revision) return known.places;
    const places = sortPlaces(rows, key, descending, known?.places);
    orders.set(name, { revision, places });
    return places;
  }

  return {
    find(register, query) {
      follow(register);
      const key = JSON.stringify(query);
      if (last?.key !== key) {
        columns ??= readColumns(register.rows);
        const tests = listTests(query, columns, register.texts);
        const places = inOrder(register, query.sort);
        last = {
          key,
          places:
            tests.length === 0 ? places : places.filter((place) => tests.every((passes) => passes(place))),
        };
      }
      return last.places;
    },
    count(register) {
      follow(register);
      counts ??= countRows(register.rows);
      return counts;
    },
  };
}

/** What a row must pass, the quickest first; none for a query that asks for all. */
function listTests(query: RegisterQuery, columns: FilterColumns, texts: readonly string[]): Test[] {
  const tests: Test[] = [];
  if (query.ruled !== 'any') {
    const wanted = Number(query.ruled === 'ruled');
    tests.push((place) => columns.isRuled[place] === wanted);
  }
  if (query.latestOnly) tests.push((place) => columns.isLatest[place] === 1);
  if (query.reasons.length > 0) {
    const wanted = reasonBits(query.reasons);
    tests.push((place) => (columns.reasons[place]! & wanted) !== 0);
  }
  if (query.verdicts.length > 0) {
    const wanted = new Set<string>(query.verdicts);
    tests.push((place) => wanted.has(columns.verdict[place]!));
  }
  if (query.species.length > 0) {
    const wanted = new Set(query.species);
    tests.push((place) => wanted.has(columns.species[place]!));
  }
  for (const word of query.search.toLowerCase().split(/\s+/).filter(Boolean)) {
    tests.push((place) => texts[place]!.includes(word));
  }
  return tests;
}

function countRows(rows: readonly RegisterRow[]): Counts {
  const reasons = new Map<string, number>();
  const verdicts = new Map<string, number>();
  const species = new Map<string, number>();
  const add = (to: Map<string, number>, value: string) => to.set(value, (to.get(value) ?? 0) + 1);
  for (const row of rows) {
    add(verdicts, row.verdict);
    add(species, row.species);
    for (const kind of new Set(row.need.reasons.map((reason) => reason.kind))) add(reasons, kind);
  }
  const list = (of: Map<string, number>) =>
    [...of].map(([value, visits]) => ({ value, visits })).sort((a, b) => b.visits - a.visits);
  return { reasons: list(reasons), verdicts: list(verdicts), species: list(species) };
}
