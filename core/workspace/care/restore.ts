import { constants, copyFileSync, existsSync, linkSync, renameSync, rmSync } from 'node:fs';
import { basename } from 'node:path';
import Database from 'better-sqlite3';
import { StoreError } from '../../errors.ts';
import { checkApplication, lockWorkspace, openForWriting } from '../opening/index.ts';
import { toStoreError } from '../storeErrors.ts';
import { recordEntry } from '../trail/index.ts';
import { inspectBackup } from './inspectBackup.ts';
import { syncDisk } from './syncDisk.ts';

export type Restored = {
  /** Where the file that stood there before was put, with all that it held; null where there was none. */
  replaced: string | null;
  lastEntry: number;
};

/**
 * Puts a backup in the place of a workspace. The backup is looked over first; what stood there before is kept beside it under
 * another name; the new file takes its name in one step. The trail goes on from the backup's and tells of the restore.
 * @throws StoreError `restore.inUse`, `restore.trail`, `backup.damaged`, or what SQLite reports
 */
export function restore(
  workspace: string,
  backup: string,
  { why }: { why?: string | undefined } = {},
): Restored {
  const proof = inspectBackup(backup);
  if (proof && !proof.holds) {
    throw new StoreError(
      'restore.trail',
      `The backup ${backup} does not stand as its trail tells (${[...proof.form, ...proof.chain.faults, ...proof.rows, ...proof.evidence][0]}).`,
      'Take an older backup. What was changed is told by: npm run -s stemroot -- care prove <backup>',
    );
  }
  const lock = lockWorkspace(workspace);
  if (lock.state !== 'held') {
    throw new StoreError(
      'restore.inUse',
      lock.state === 'elsewhere'
        ? `${workspace} is open in another window or command.`
        : `Nothing can be written beside ${workspace}.`,
      'Close the other one, or get the right to write there, and restore again.',
    );
  }
  try {
    return replace(workspace, backup, why);
  } catch (error) {
    throw toStoreError(error, workspace);
  } finally {
    lock.release();
  }
}

function replace(workspace: string, backup: string, why: string | undefined): Restored {
  const incoming = `${workspace}.restoring`;
  const removeIncoming = () => {
    for (const ending of ['', '-wal', '-shm', '-journal']) rmSync(incoming + ending, { force: true });
  };
  removeIncoming();
  try {
    copyFileSync(backup, incoming);
    const lastEntry = tellOfRestore(incoming, backup, why);
    syncDisk(incoming);
    const replaced = existsSync(workspace) ? setAside(workspace) : null;
    renameSync(incoming, workspace);
    syncDisk(workspace);
    return { replaced, lastEntry };
  } finally {
    // what did not get its name would only fill the disk
    removeIncoming();
  }
}

function tellOfRestore(incoming: string, backup: string, why: string | undefined): number {
  const database = openForWriting(incoming, { checked: false });
  if (database === null) {
    throw new StoreError(
      'store.newer',
      `The backup ${backup} was written by a newer Stemroot.`,
      'Restore it with the newer program.',
    );
  }
  try {
    const seq = database.transaction(() =>
      recordEntry(
        database,
        {
          action: 'restore',
          subject: 'this workspace',
          after: { backup: basename(backup) },
          ...(why && { why }),
        },
        [],
      ),
    )();
    database.pragma('journal_mode = DELETE');
    return seq;
  } finally {
    database.close();
  }
}

/** Keeps the file that is there under another name, and all that its write-ahead log holds. */
function setAside(workspace: string): string {
  foldLog(workspace);
  const aside = freeName(`${workspace}.replaced-${new Date().toISOString().replaceAll(/[-:]|\.\d+/g, '')}`);
  try {
    linkSync(workspace, aside);
  } catch {
    // a disk without hard links
    copyFileSync(workspace, aside, constants.COPYFILE_EXCL);
  }
  // a log that could not be folded in goes along with its file: beside another one it would do harm
  if (existsSync(`${workspace}-wal`)) renameSync(`${workspace}-wal`, `${aside}-wal`);
  rmSync(`${workspace}-shm`, { force: true });
  syncDisk(aside);
  return aside;
}

function foldLog(workspace: string): void {
  let database: Database.Database | undefined;
  try {
    database = new Database(workspace);
    checkApplication(database, workspace);
    database.pragma('wal_checkpoint(TRUNCATE)');
  } catch {
    // a file too damaged to be opened is kept as it is
  } finally {
    database?.close();
  }
}

function freeName(wanted: string): string {
  for (let i = 1; ; i++) {
    const name = i === 1 ? wanted : `${wanted}-${i}`;
    if (!existsSync(name)) return name;
  }
}
