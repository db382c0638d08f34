import { z } from 'zod';
import type { ToldRow, TrailRow } from './composeEntry.ts';
import { hashRow, type Row } from './hashRow.ts';

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

/** What the trail tells last of every row; rows that it tells are gone are left out. */
export type ToldRows = {
  /** Notes the rows that the next entry names. */
  take(entry: Pick<TrailRow, 'seq' | 'rows_json'>): void;
  /** What was told of a row last; undefined where nothing was, or that it is gone. */
  hashOf(table: string, key: string): string | undefined;
  /** Compares a row as it stands, once all entries were taken. @returns null where it is as it was told */
  compare(table: string, key: string, row: Row): RowDifference | null;
  /** Rows told of that were not compared. */
  listMissing(): RowDifference[];
};

type Told = { table: string; key: string; sha256: string; toldBy: number };

export function noteToldRows(): ToldRows {
  const told = new Map<string, Told>();
  return {
    take({ seq, rows_json }) {
      for (const [table, key, sha256] of readToldRows(rows_json)) {
        if (sha256 === null) told.delete(rowId(table, key));
        else told.set(rowId(table, key), { table, key, sha256, toldBy: seq });
      }
    },
    hashOf: (table, key) => told.get(rowId(table, key))?.sha256,
    compare(table, key, row) {
      const id = rowId(table, key);
      const expected = told.get(id);
      told.delete(id);
      const sha256 = hashRow(row);
      if (sha256 === expected?.sha256) return null;
      const kind = expected === undefined ? 'added' : 'changed';
      return { table, key, kind, sha256, toldBy: expected?.toldBy ?? null };
    },
    listMissing: () =>
      [...told.values()].map(({ table, key, toldBy }) => ({
        table,
        key,
        kind: 'missing',
        sha256: null,
        toldBy,
      })),
  };
}

/** One text for table and key of a row. */
export function rowId(table: string, key: string): string {
  return `${table} ${key}`;
}

const rowsSchema = z.array(z.tuple([z.string(), z.string(), z.string().nullable()]));

/** Rows that an entry names; none where somebody made them unreadable, which the entry's own hash tells. */
export function readToldRows(json: string): readonly ToldRow[] {
  try {
    return rowsSchema.parse(JSON.parse(json));
  } catch {
    return [];
  }
}
