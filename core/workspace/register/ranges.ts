import { type Kysely, sql } from 'kysely';
import { INDEXED_COLUMNS } from '../migrations/20261127T170000_register.ts';
import { isOneOf, isTeam } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';
import type { StoredRow, ValueColumn } from './orders.ts';
import { compareValues, fromMark, type Mark, type Place, type Segment } from './readStretch.ts';

type Db = Kysely<Tables>;
type Order = Pick<Segment, 'column' | 'direction' | 'isTurned'>;

/** Of a million visits one has some 16,000: PostgreSQL passes half of them by in a millisecond or two. */
const RANGES = 64;
/** Half of fewer are passed by in some ten milliseconds. */
const FEWEST_VISITS = 100_000;
/** A range that has outgrown this share of all visits, as the latest of the dates does, is divided anew. */
const LARGEST_SHARE = 1 / 8;
const TOLD_BY = 'measured_on';
/** Visits that bounds are chosen by: each range comes out within a fifth or so of its share. */
const SAMPLE_VISITS = 20_000;

/** Takes the ranges of orders away, of all where none is named: nothing is counted then, as where nearly every row is to be written. */
export async function dropRanges(
  transaction: Db,
  columns: readonly string[] = INDEXED_COLUMNS.map(({ column }) => column),
): Promise<void> {
  if (!isTeam(transaction)) return;
  for (const table of ['register_bounds', 'register_counts'] as const) {
    await transaction.deleteFrom(table).where('column_name', 'in', columns).execute();
  }
}

/**
 * Divides the orders of a large team store into ranges, where they are not or where those have grown too uneven: one order after the
 * other, since nobody else can write meanwhile.
 * @param options.fewest - a store of fewer visits is left alone @default 100000
 */
export async function makeRanges(db: Db, { fewest = FEWEST_VISITS } = {}): Promise<void> {
  if (!isTeam(db) || !(await areRangesLacking(db, fewest))) return;
  const sample = await readSample(db);
  // the one by which ranges are told to be lacking comes last: where this is broken off, it is done again
  const columns = INDEXED_COLUMNS.toSorted(
    (a, b) => Number(a.column === TOLD_BY) - Number(b.column === TOLD_BY),
  );
  for (const { column, kind } of columns) {
    await db.transaction().execute(async (transaction) => {
      // somebody else may have been first
      if (!(await areRangesLacking(transaction, fewest))) return;
      await dropRanges(transaction, [column]);
      // statistics may be of a table that was empty
      await sql`SET LOCAL enable_seqscan = off`.execute(transaction);
      await storeBounds(transaction, column, kind, sample);
      for (const [i, within] of (await listRanges(transaction, column)).entries()) {
        await sql`INSERT INTO register_counts (column_name, range_number, facet_id, visits)
          SELECT ${column}, ${i}::bigint, facet_id, count(*) FROM register_rows WHERE ${within} GROUP BY facet_id`.execute(
          transaction,
        );
      }
    });
  }
}

/** Bounds of a segment's order, each with the number of wanted visits ahead of it; none where nothing is counted. */
export async function readBounds(db: Db, segment: Segment): Promise<Mark[]> {
  if (!isTeam(db) || segment.own.length > 0) return [];
  const name = segment.column ?? 'place';
  const { facetIds, isTurned, visits } = segment;
  const isWanted = facetIds === null ? sql`1 = 1` : isOneOf(db, 'facet_id', facetIds);
  const { rows } = await sql<{ range_number: number; visits: number }>`
    SELECT range_number, sum(visits)::bigint AS visits FROM register_counts
    WHERE column_name = ${name} AND ${isWanted} GROUP BY range_number`.execute(db);
  // what was stored meanwhile is found with the next revision
  if (rows.reduce((sum, row) => sum + row.visits, 0) !== visits) return [];
  const inRange = new Map(rows.map((row) => [row.range_number, row.visits]));
  let ahead = 0;
  return (await readPlaces(db, name)).map((row, i) => {
    ahead += inRange.get(i) ?? 0;
    return { offset: isTurned ? visits - ahead : ahead, row };
  });
}

/** How many counts are not what the rows say. */
export async function countAstrayRanges(db: Db): Promise<number> {
  if (!isTeam(db)) return 0;
  let astray = 0;
  for (const { column } of INDEXED_COLUMNS) {
    const ranges = await listRanges(db, column);
    if (ranges.length === 1) continue;
    for (const [i, within] of ranges.entries()) {
      const { rows } = await sql<{ astray: number }>`
        SELECT count(*) AS astray FROM
          (SELECT facet_id, count(*) AS visits FROM register_rows WHERE ${within} GROUP BY facet_id) AS found
          FULL JOIN (SELECT facet_id, visits FROM register_counts
            WHERE column_name = ${column} AND range_number = ${i} AND visits <> 0) AS kept USING (facet_id)
        WHERE found.visits IS DISTINCT FROM kept.visits`.execute(db);
      astray += rows[0]!.astray;
    }
  }
  return astray;
}

async function areRangesLacking(db: Db, fewest: number): Promise<boolean> {
  const { rows } = await sql<{ visits: number; counted: number; largest: number }>`
    SELECT (SELECT sum(visits) FROM register_facets)::bigint AS visits,
      coalesce(sum(visits), 0)::bigint AS counted, coalesce(max(visits), 0)::bigint AS largest
    FROM (SELECT sum(visits) AS visits FROM register_counts WHERE column_name = ${TOLD_BY} GROUP BY range_number) AS ranges`.execute(
    db,
  );
  const { visits, counted, largest } = rows[0]!;
  return visits >= fewest && (counted === 0 || largest > visits * LARGEST_SHARE);
}

async function readSample(db: Db): Promise<StoredRow[]> {
  const { rows } = await sql<StoredRow>`
    SELECT * FROM register_rows TABLESAMPLE SYSTEM (
      (SELECT least(100, 100.0 * ${SAMPLE_VISITS}::bigint / sum(visits)) FROM register_facets))`.execute(db);
  return rows;
}

async function storeBounds(
  db: Db,
  column: string,
  kind: (typeof INDEXED_COLUMNS)[number]['kind'],
  sample: readonly StoredRow[],
): Promise<void> {
  const readValue = (row: StoredRow) => row[column as ValueColumn];
  const held = sample
    .filter((row) => readValue(row) !== null)
    .toSorted((a, b) => compareValues(readValue(a)!, readValue(b)!) || compareValues(a.place, b.place));
  const chosen = new Map<string, Tables['register_bounds']>();
  for (let i = 1; i < RANGES && held.length > 0; i++) {
    const row = held[Math.floor((i * held.length) / RANGES)]!;
    const value = { number: null, text: null, ...(kind !== 'place' && { [kind]: readValue(row) }) };
    chosen.set(JSON.stringify([readValue(row), row.place]), {
      column_name: column,
      ...value,
      place: row.place,
    });
  }
  if (chosen.size > 0)
    await db
      .insertInto('register_bounds')
      .values([...chosen.values()])
      .execute();
}

/** The bounds of an order as places, in the direction of its index. */
async function readPlaces(db: Db, column: string): Promise<Place[]> {
  const { direction } = orderOf(column);
  const bounds = await db
    .selectFrom('register_bounds')
    .selectAll()
    .where('column_name', '=', column)
    .orderBy('number', direction)
    .orderBy('text', direction)
    .orderBy('place')
    .execute();
  // ahead of every visit that has the same value and place
  return bounds.map(({ number, text, place }) => ({ place, visit_id: 0, [column]: number ?? text ?? place }));
}

/** SQL that is true of the visits of each range, in the direction of the index. */
async function listRanges(db: Db, column: string) {
  const order = orderOf(column);
  const places = await readPlaces(db, column);
  const held = order.column === null ? sql<boolean>`1 = 1` : sql<boolean>`${sql.ref(column)} IS NOT NULL`;
  return Array.from({ length: places.length + 1 }, (_, i) => {
    const [low, high] = [places[i - 1], places[i]];
    const parts = [held];
    if (low) parts.push(fromMark(order, low, false));
    if (high) parts.push(fromMark(order, high, true));
    return sql<boolean>`${sql.join(parts, sql` AND `)}`;
  });
}

function orderOf(column: string): Order {
  const direction =
    INDEXED_COLUMNS.find((each) => each.column === column)!.direction === 'DESC' ? 'desc' : 'asc';
  return { column: column === 'place' ? null : (column as ValueColumn), direction, isTurned: false };
}
