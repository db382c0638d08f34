import type Database from 'better-sqlite3';
import { z } from 'zod';
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
  /** Number of the entry that told of it last; null where none did. */
  toldBy: number | null;
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
      const expected = told.get(id);
      const sha256 = hashRow(row);
      if (sha256 !== expected?.sha256) {
        const kind = expected === undefined ? 'added' : 'changed';
        yield { table: table.name, key, kind, sha256, toldBy: expected?.toldBy ?? null };
      }
      told.delete(id);
    }
  }
  for (const { table, key, toldBy } of told.values()) {
    yield { table, key, kind: 'missing', sha256: null, toldBy };
  }
}

/** One text for table and key of a row. */
export function rowId(table: string, key: string): string {
  return `${table} ${key}`;
}

type Told = { table: string; key: string; sha256: string; toldBy: number };

/** What the trail tells last of every row; rows that it tells are gone are left out. */
function readToldRows(database: Database.Database): Map<string, Told> {
  const told = new Map<string, Told>();
  const entries = database.prepare('SELECT seq, rows_json FROM main.trail ORDER BY seq').iterate();
  for (const { seq, rows_json } of entries as Iterable<{ seq: number; rows_json: string }>) {
    for (const [table, key, sha256] of readRows(rows_json)) {
      if (sha256 === null) told.delete(rowId(table, key));
      else told.set(rowId(table, key), { table, key, sha256, toldBy: seq });
    }
  }
  return told;
}

const rowsSchema = z.array(z.tuple([z.string(), z.string(), z.string().nullable()]));

/** Rows that an entry names; none where somebody made them unreadable, which the entry's own hash tells. */
function readRows(json: string): readonly ToldRow[] {
  try {
    return rowsSchema.parse(JSON.parse(json));
  } catch {
    return [];
  }
}
