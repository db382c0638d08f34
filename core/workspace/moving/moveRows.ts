import { type Kysely, sql } from 'kysely';
import type { Tables } from '../tables.ts';
import type { Row } from '../trail/index.ts';
import type { MovedTable } from './movedTables.ts';
import { keyOf } from './readPages.ts';

type Db = Kysely<Tables>;

/** Rows by their keys. @param keys - JSON arrays, as the trail writes them; at least one */
export async function readRowsByKey(
  db: Db,
  table: MovedTable,
  keys: readonly string[],
): Promise<ReadonlyMap<string, Row>> {
  const isOneOf = sql.join(
    keys.map((key) => sql`(${isKey(table, JSON.parse(key) as unknown[])})`),
    sql` OR `,
  );
  const { rows } = await sql<Row>`SELECT * FROM ${sql.table(table.name)} WHERE ${isOneOf}`.execute(db);
  return new Map(rows.map((row) => [keyOf(table.keyColumns, row), row]));
}

/** Writes rows with the identities that they have. */
export async function insertRows(db: Db, { name }: MovedTable, rows: readonly Row[]): Promise<void> {
  const [first] = rows;
  if (first === undefined) return;
  const columns = Object.keys(first);
  const values = rows.map((row) => sql`(${sql.join(columns.map((column) => row[column]))})`);
  await sql`INSERT INTO ${sql.table(name)} (${sql.join(columns.map((column) => sql.ref(column)))})
    VALUES ${sql.join(values)}`.execute(db);
}

export async function deleteRow(db: Db, table: MovedTable, row: Row): Promise<void> {
  const key = table.keyColumns.map((column) => row[column]);
  await sql`DELETE FROM ${sql.table(table.name)} WHERE ${isKey(table, key)}`.execute(db);
}

function isKey({ keyColumns }: MovedTable, key: readonly unknown[]) {
  return sql.join(
    keyColumns.map((column, i) => sql`${sql.ref(column)} = ${key[i]}`),
    sql` AND `,
  );
}
