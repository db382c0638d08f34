import type Database from 'better-sqlite3';
import type { ToldRow } from './composeEntry.ts';
import { hashRow, type Row } from './hashRow.ts';
import { keyExpression, listTrackedTables, quoteName } from './trailTables.ts';

/** A row that does not stand as the trail told of it last. */
export type RowDifference = {
  table: string;
  /** JSON array of the primary key. */
  key: string;
  /** changed: another content; added: the trail never told of it; missing: told of, and gone. */
  kind: 'changed' | 'added' | 'missing';
  /** Hash of the row as it stands; null where it is gone. */
  sha256: string | null;
};

/** Compares every row that the trail covers with what it told of it last. One row is in memory at a time. */
export function* compareRows(database: Database.Database): Generator<RowDifference> {
  const told = readToldRows(database);
  for (const table of listTrackedTables(database)) {
    const name = quoteName(table.name);
    const rows = database
      .prepare(`SELECT ${keyExpression(table, name)} AS "row key", * FROM main.${name}`)
      .iterate() as Iterable<Row & { 'row key': string }>;
    for (const { 'row key': key, ...row } of rows) {
      const id = rowId(table.name, key);
      const expected = told.get(id)?.[2];
      const sha256 = hashRow(row);
      if (sha256 !== expected) {
        yield { table: table.name, key, kind: expected === undefined ? 'added' : 'changed', sha256 };
      }
      told.delete(id);
    }
  }
  for (const [table, key] of told.values()) yield { table, key, kind: 'missing', sha256: null };
}

/** One text for table and key of a row. */
export function rowId(table: string, key: string): string {
  return `${table} ${key}`;
}

/** What the trail tells last of every row; rows that it tells are gone are left out. */
function readToldRows(database: Database.Database): Map<string, ToldRow> {
  const told = new Map<string, ToldRow>();
  const entries = database.prepare('SELECT rows_json FROM main.trail ORDER BY seq').pluck().iterate();
  for (const json of entries as Iterable<string>) {
    for (const row of JSON.parse(json) as ToldRow[]) {
      const [table, key, sha256] = row;
      if (sha256 === null) told.delete(rowId(table, key));
      else told.set(rowId(table, key), row);
    }
  }
  return told;
}
