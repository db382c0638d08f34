import { mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { StoreError } from '../../errors.ts';
import type { FileStore } from '../store.ts';
import { toStoreError } from '../storeErrors.ts';
import { backupFolder, nameBackup } from './backupName.ts';
import { inspectBackup } from './inspectBackup.ts';
import { listBackups } from './listBackups.ts';
import { syncDisk } from './syncDisk.ts';

/** Backups kept where no other number is asked for. */
const KEPT_BACKUPS = 10;

/** All pages in one step: a write-ahead log lets others write meanwhile, and a copy of one moment need not begin anew. */
const ALL_PAGES = 0x7fffffff;

export type Backup = {
  path: string;
  bytes: number;
  /** Last entry of its trail. */
  lastEntry: number;
  /** Older backups that were removed for it. */
  removed: string[];
};

/**
 * Backs a workspace up while it is in use, by SQLite's own backup (sqlite.org, "SQLite Backup API"): the copy is looked over as a
 * restore would need it, written through to the disk, and named last, so that a name stands for a whole backup. Then the oldest
 * beyond `keep` go, but none where the new one does not stand as its trail tells.
 * @param options.folder - made where it is missing. @default beside the workspace
 * @param options.keep - at least 1
 * @throws StoreError `backup.folder`, `backup.damaged`, or what SQLite reports
 */
export async function backUp(
  { path, database }: Pick<FileStore, 'path' | 'database'>,
  options: { folder?: string | undefined; keep?: number | undefined } = {},
): Promise<Backup> {
  const { folder = backupFolder(path), keep = KEPT_BACKUPS } = options;
  makeFolder(folder);
  removeUnfinished(folder);
  const unfinished = join(folder, `${process.pid}-${Date.now()}.unfinished`);
  try {
    await database.backup(unfinished, { progress: () => ALL_PAGES });
    const lastEntry = closeJournal(unfinished);
    const proof = inspectBackup(unfinished);
    syncDisk(unfinished);
    const backup = join(folder, nameBackup(path, lastEntry, new Date()));
    renameSync(unfinished, backup);
    syncDisk(backup);
    const removed = proof?.holds ? removeOldest(path, folder, keep) : [];
    return { path: backup, bytes: statSync(backup).size, lastEntry, removed };
  } catch (error) {
    throw toStoreError(error, folder);
  } finally {
    for (const ending of ['', '-journal', '-wal', '-shm']) rmSync(unfinished + ending, { force: true });
  }
}

/** Makes the copy one file that can be read from a disk where nothing can be written. @returns the last entry of its trail */
function closeJournal(path: string): number {
  const database = new Database(path);
  try {
    database.pragma('journal_mode = DELETE');
    return database.prepare('SELECT coalesce(max(seq), 0) FROM main.trail').pluck().get() as number;
  } finally {
    database.close();
  }
}

/** Removes what backups left that were broken off: copies whose program is no longer there. */
function removeUnfinished(folder: string): void {
  for (const name of readdirSync(folder)) {
    const pid = /^(\d+)-\d+\.unfinished/.exec(name)?.[1];
    if (pid !== undefined && !isRunning(Number(pid))) rmSync(join(folder, name), { force: true });
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // a program of another user cannot be asked, and is there
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

function removeOldest(workspace: string, folder: string, keep: number): string[] {
  const removed = listBackups(workspace, folder).slice(Math.max(1, keep));
  for (const path of removed) rmSync(path);
  return removed;
}

function makeFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true });
  } catch (error) {
    throw new StoreError(
      'backup.folder',
      `The folder ${folder} for backups cannot be made (${(error as Error).message}).`,
      'Name a folder that can be written.',
    );
  }
}
