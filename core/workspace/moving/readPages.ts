import { type Kysely, sql } from 'kysely';
import type { Tables } from '../tables.ts';
import type { Row, TrailRow } from '../trail/index.ts';
import type { MovedTable } from './movedTables.ts';

/** Rows that one query fetches: a recording may have several megabytes. */
const ROWS_A_QUERY = 20;
const ENTRIES_A_QUERY = 200;

/** Entries of the trail in their order, after a number and up to another; works on both kinds of store. */
export async function* readTrailPages(
  db: Kysely<Tables>,
  { after = 0, upTo = Number.MAX_SAFE_INTEGER }: { after?: number; upTo?: number } = {},
): AsyncGenerator<TrailRow> {
  for (let last = after; ; ) {
    const entries = await db
      .selectFrom('trail')
      .selectAll()
      .where('seq', '>', last)
      .where('seq', '<=', upTo)
      .orderBy('seq')
      .limit(ENTRIES_A_QUERY)
      .execute();
    yield* entries;
    if (entries.length < ENTRIES_A_QUERY) return;
    last = entries.at(-1)!.seq;
  }
}

/** Rows of a table in the order of its key, each with the key as the trail writes it; works on both kinds of store. */
export async function* readTablePages(
  db: Kysely<Tables>,
  { name, keyColumns }: MovedTable,
): AsyncGenerator<{ key: string; row: Row }> {
  const key = sql.join(keyColumns.map((column) => sql.ref(column)));
  for (let last: unknown[] | null = null; ; ) {
    const after: ReturnType<typeof sql> = last === null ? sql`` : sql`WHERE (${key}) > (${sql.join(last)})`;
    const { rows }: { rows: Row[] } =
      await sql<Row>`SELECT * FROM ${sql.table(name)} ${after} ORDER BY ${key} LIMIT ${sql.lit(ROWS_A_QUERY)}`.execute(
        db,
      );
    for (const row of rows) yield { key: keyOf(keyColumns, row), row };
    if (rows.length < ROWS_A_QUERY) return;
    last = keyColumns.map((column) => rows.at(-1)![column]);
  }
}

/** Key of a row as the trail writes it: a JSON array of its primary key. */
export function keyOf(keyColumns: readonly string[], row: Row): string {
  return JSON.stringify(keyColumns.map((column) => row[column]));
}
