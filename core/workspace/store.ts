import { closeSync, existsSync, openSync, readSync } from 'node:fs';
import Database from 'better-sqlite3';
import { Kysely } from 'kysely';
import { StoreError } from '../errors.ts';
import { migrations } from './migrations/index.ts';
import { toStoreError } from './storeErrors.ts';
import type { Tables } from './tables.ts';
import { WriteFirstDialect } from './writeFirstDialect.ts';

/** "Stmr" in ASCII: marks an SQLite file as a Stemroot workspace. */
const APPLICATION_ID = 0x53746d72;
const BUSY_TIMEOUT_MS = 5000;

/** First bytes of every SQLite database file (sqlite.org, "Database File Format", 1.3). */
const SQLITE_MAGIC = 'SQLite format 3\0';

export type Store = { readonly path: string; readonly db: Kysely<Tables>; close(): Promise<void> };

/**
 * Opens a workspace file and brings it to the newest form.
 * @param path - a `*.stemroot` file
 * @param options.create - make the file where there is none
 * @throws StoreError `store.missing`, `store.notAWorkspace`, `store.newer`, or what SQLite reports
 */
export function openStore(path: string, { create = false }: { create?: boolean } = {}): Store {
  const isNew = !existsSync(path);
  if (isNew && !create) {
    throw new StoreError(
      'store.missing',
      `There is no workspace at ${path}.`,
      'Check the path, or make the workspace with: npm run -s stemroot -- import <workspace> <folder of visits>',
    );
  }
  if (!isNew && !startsLikeSqlite(path)) throw notAWorkspace(path);
  let database: Database.Database | undefined;
  try {
    database = new Database(path, { timeout: BUSY_TIMEOUT_MS });
    if (isNew) database.pragma(`application_id = ${APPLICATION_ID}`);
    checkIdentity(database, path);
    database.pragma('journal_mode = WAL');
    database.pragma('synchronous = FULL');
    database.pragma('foreign_keys = ON');
    migrate(database);
  } catch (error) {
    database?.close();
    throw toStoreError(error, path);
  }
  const db = new Kysely<Tables>({ dialect: new WriteFirstDialect({ database }) });
  const opened = database;
  return {
    path,
    db,
    async close() {
      await db.destroy();
      opened.close();
    },
  };
}

function startsLikeSqlite(path: string): boolean {
  const head = Buffer.alloc(SQLITE_MAGIC.length);
  let file: number | undefined;
  try {
    file = openSync(path, 'r');
    return (
      readSync(file, head, 0, head.length, 0) === head.length && head.toString('latin1') === SQLITE_MAGIC
    );
  } catch (error) {
    throw new StoreError(
      'store.open',
      `${path} cannot be opened (${(error as Error).message}).`,
      'Check the path, and the rights of the file and of its folder.',
    );
  } finally {
    if (file !== undefined) closeSync(file);
  }
}

function notAWorkspace(path: string): StoreError {
  return new StoreError(
    'store.notAWorkspace',
    `${path} is no Stemroot workspace.`,
    'Choose a *.stemroot file that Stemroot made; visit files and recordings are imported into one.',
  );
}

function checkIdentity(database: Database.Database, path: string): void {
  if (database.pragma('application_id', { simple: true }) !== APPLICATION_ID) throw notAWorkspace(path);
  const version = readVersion(database);
  if (version > migrations.length) {
    throw new StoreError(
      'store.newer',
      `${path} was written by a newer Stemroot: its form is ${version}, this program knows up to ${migrations.length}.`,
      'Open it with the newer program; this one leaves it untouched.',
    );
  }
}

function readVersion(database: Database.Database): number {
  return database.pragma('user_version', { simple: true }) as number;
}

function migrate(database: Database.Database): void {
  const runPending = database.transaction(() => {
    for (let version = readVersion(database); version < migrations.length; version++) {
      database.exec(migrations[version]!.up);
      database.pragma(`user_version = ${version + 1}`);
    }
  });
  if (readVersion(database) < migrations.length) runPending.immediate();
}
