import type Database from 'better-sqlite3';
import { composeEntry, NO_ENTRY, type ToldRow, type TrailEntry } from './composeEntry.ts';

/**
 * Adds an entry where no Kysely is: to a file that is being made, brought to another form or restored. To be called within a
 * transaction. @returns its number
 */
export function recordEntry(
  database: Database.Database,
  entry: TrailEntry,
  rows: readonly ToldRow[],
): number {
  const previous = database.prepare('SELECT seq, sha256 FROM main.trail ORDER BY seq DESC LIMIT 1').get() as
    | typeof NO_ENTRY
    | undefined;
  const added = composeEntry(entry, rows, previous ?? NO_ENTRY);
  const columns = Object.keys(added);
  database
    .prepare(
      `INSERT INTO main.trail (${columns.join(', ')}) VALUES (${columns.map((name) => `@${name}`).join(', ')})`,
    )
    .run(added);
  return added.seq;
}
