import { closeSync, openSync, readSync } from 'node:fs';
import type Database from 'better-sqlite3';
import { StoreError } from '../../errors.ts';

/** "Stmr" in ASCII: marks an SQLite file as a Stemroot workspace. */
export const APPLICATION_ID = 0x53746d72;

/** First bytes of every SQLite database file (sqlite.org, "Database File Format", 1.3). */
const SQLITE_MAGIC = 'SQLite format 3\0';

/** Looks at the first bytes of a file before SQLite does, which takes an empty file for a database. @throws StoreError */
export function checkStart(path: string): void {
  const head = Buffer.alloc(SQLITE_MAGIC.length);
  let file: number | undefined;
  let length: number;
  try {
    file = openSync(path, 'r');
    length = readSync(file, head, 0, head.length, 0);
  } catch (error) {
    throw new StoreError(
      'store.open',
      `${path} cannot be opened (${(error as Error).message}).`,
      'Check the path, and the rights of the file and of its folder.',
    );
  } finally {
    if (file !== undefined) closeSync(file);
  }
  if (length < head.length || head.toString('latin1') !== SQLITE_MAGIC) throw notAWorkspace(path);
}

/** @throws StoreError `store.notAWorkspace` where the file is a database of another program */
export function checkApplication(database: Database.Database, path: string): void {
  if (database.pragma('application_id', { simple: true }) !== APPLICATION_ID) throw notAWorkspace(path);
}

function notAWorkspace(path: string): StoreError {
  return new StoreError(
    'store.notAWorkspace',
    `${path} is no Stemroot workspace.`,
    'Choose a *.stemroot file that Stemroot made; visit files and recordings are imported into one.',
  );
}
