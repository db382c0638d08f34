import type Database from 'better-sqlite3';
import { compareRows } from './compareRows.ts';
import type { ToldRow, TrailEntry } from './composeEntry.ts';
import { recordEntry } from './recordEntry.ts';
import { rowId } from './toldRows.ts';

/**
 * Rows that do not stand as the trail last told of them; to be asked for before the form of a file is changed, so that
 * a change made past the program is not taken for one of the new form. A file that has no trail yet has none.
 */
export function listStrayRows(database: Database.Database): ReadonlySet<string> {
  if (!hasTrail(database)) return new Set();
  return new Set([...compareRows(database)].map(({ table, key }) => rowId(table, key)));
}

/**
 * Adds the entry of a new file, or of a file brought to a newer form, with every row that the new form changed.
 * To be called within the transaction that changes the form.
 * @param stray - of {@link listStrayRows}, taken before the change; they stay untold
 */
export function recordForms(
  database: Database.Database,
  entry: TrailEntry,
  stray: ReadonlySet<string>,
): void {
  const rows: ToldRow[] = [];
  for (const { table, key, sha256 } of compareRows(database)) {
    if (!stray.has(rowId(table, key))) rows.push([table, key, sha256]);
  }
  recordEntry(database, entry, rows);
}

function hasTrail(database: Database.Database): boolean {
  return (
    database.prepare(`SELECT 1 FROM main.sqlite_schema WHERE type = 'table' AND name = 'trail'`).get() !==
    undefined
  );
}
