import { accessSync, constants, existsSync } from 'node:fs';
import type Database from 'better-sqlite3';
import { Kysely } from 'kysely';
import { StoreError } from '../errors.ts';
import { migrations } from './migrations/index.ts';
import { MOVE_MARK } from './moving/moveMark.ts';
import {
  checkStart,
  findNetworkFileSystem,
  type Lock,
  lockWorkspace,
  type Notice,
  noticeAsked,
  noticeInUse,
  noticeMoving,
  noticeNetwork,
  noticeNewer,
  noticeUnfinished,
  noticeUnwritable,
  openForReading,
  openForWriting,
  readForm,
} from './opening/index.ts';
import { COMPOSITION } from './register/composition.ts';
import type { OpenOptions, StoreCommon } from './storeCommon.ts';
import { toStoreError } from './storeErrors.ts';
import type { Tables } from './tables.ts';
import type { TeamStore } from './team/index.ts';
import { WriteFirstDialect } from './writeFirstDialect.ts';

export type FileStore = StoreCommon & {
  readonly kind: 'file';
  /** The connection below `db`, for what Kysely has no words for: backups and checks. */
  readonly database: Database.Database;
};

/** A workspace; most of the program does not ask of which kind. */
export type Store = FileStore | TeamStore;

type Opened = {
  database: Database.Database;
  readOnly: Notice | null;
  copy: { path: string; remove(): void } | null;
};

/**
 * Opens a workspace file: takes the right to write it, checks every page, and brings it to the newest form. Where it cannot be
 * written (another program has it, a disk that can only be read, a newer form), it is opened for reading, and `readOnly` says why.
 * @param path - a `*.stemroot` file
 * @throws StoreError `store.missing`, `store.notAWorkspace`, `store.damaged`, `store.form`, or what SQLite reports
 */
export function openStore(path: string, options: OpenOptions = {}): FileStore {
  const isNew = !existsSync(path);
  if (isNew && !options.create) {
    throw new StoreError(
      'store.missing',
      `There is no workspace at ${path}.`,
      'Check the path, or make the workspace: npm start -- <workspace> --make, or npm run -s stemroot -- import <workspace> <folder of visits>',
    );
  }
  if (!isNew) checkStart(path);
  const lock = options.sharedLock || options.readOnly ? null : lockWorkspace(path);
  const release = () => {
    if (lock?.state === 'held') lock.release();
  };
  let opened: Opened;
  try {
    opened = openDatabase(path, options, isNew, lock);
  } catch (error) {
    release();
    throw toStoreError(error, path);
  }
  const { database, readOnly, copy } = opened;
  const db = new Kysely<Tables>({ dialect: new WriteFirstDialect({ database, readOnly }) });
  return {
    kind: 'file',
    path,
    db,
    database,
    readOnly,
    notices: [...(readOnly ? [readOnly] : []), ...tellNetwork(path), ...tellUnfinished(database, path)],
    forThreads: {
      path: copy?.path ?? path,
      options: { sharedLock: true, ...(readOnly && { readOnly: true }) },
    },
    async close() {
      await db.destroy();
      // Kysely closes only what it was asked something
      database.close();
      copy?.remove();
      release();
    },
  };
}

function openDatabase(path: string, options: OpenOptions, isNew: boolean, lock: Lock | null): Opened {
  const checked = !options.sharedLock;
  const hindrance = findHindrance(path, options, isNew, lock);
  if (hindrance === null) {
    const database = openForWriting(path, { isNew, checked, moving: options.moving ?? false });
    if (database !== null && (options.moving || !isMovedInPart(database))) {
      return { database, readOnly: null, copy: null };
    }
    database?.close();
  }
  const { database, copy, form } = openForReading(path, { checked });
  const isNewer = form > migrations.length;
  return {
    database,
    copy,
    readOnly: isNewer ? noticeNewer(path, form, migrations.length) : (hindrance ?? noticeMoving(path)),
  };
}

function isMovedInPart(database: Database.Database): boolean {
  return database.prepare('SELECT 1 FROM main.kept_choices WHERE name = ?').get(MOVE_MARK) !== undefined;
}

/** Why a file may not be written; null where it may. */
function findHindrance(
  path: string,
  { readOnly }: OpenOptions,
  isNew: boolean,
  lock: Lock | null,
): Notice | null {
  if (readOnly) return noticeAsked(path);
  if (lock?.state === 'elsewhere') return noticeInUse(path);
  // a file that is to be made is made or refused by SQLite itself
  if (isNew) return null;
  return lock?.state === 'unwritable' || !isWritable(path) ? noticeUnwritable(path) : null;
}

function isWritable(path: string): boolean {
  try {
    accessSync(path, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

/** Fewer poles than these are in the register before anybody minds. */
const MANY_POLES = 5000;

function tellUnfinished(database: Database.Database, path: string): Notice[] {
  // a newer form may have no such table
  if (readForm(database) > migrations.length) return [];
  const poles = database
    .prepare(
      `SELECT CASE WHEN composition < ${COMPOSITION} THEN (SELECT count(*) FROM poles) ELSE (SELECT count(*) FROM register_stale) END
       FROM register_state`,
    )
    .pluck()
    .get() as number;
  return poles < MANY_POLES ? [] : [noticeUnfinished(path, poles)];
}

function tellNetwork(path: string): Notice[] {
  const kind = findNetworkFileSystem(path);
  return kind === null ? [] : [noticeNetwork(path, kind)];
}
