import { chmodSync, copyFileSync, existsSync, mkdtempSync, rmSync, statfsSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import Database from 'better-sqlite3';
import { StoreError } from '../../errors.ts';

export type Copy = { readonly path: string; remove(): void };

/**
 * Copies a workspace into a folder of its own among the temporary files, where only this user may read it: for files that
 * SQLite cannot read where they lie (a write-ahead log needs a place to write, also for reading) or that must be
 * brought to a newer form while the file itself is left as it is.
 */
export function copyAside(path: string): Copy {
  checkRoom(path);
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-read-'));
  const remove = () => rmSync(folder, { recursive: true, force: true });
  const copy = join(folder, basename(path));
  try {
    if (!copyThroughSqlite(path, copy)) {
      for (const ending of ['', '-wal']) {
        if (!existsSync(path + ending)) continue;
        copyFileSync(path + ending, copy + ending);
        chmodSync(copy + ending, 0o600);
      }
    }
    return { path: copy, remove };
  } catch (error) {
    remove();
    throw error;
  }
}

/** A copy as of one moment, also while another program writes. @returns false where SQLite cannot read the file where it lies */
function copyThroughSqlite(path: string, copy: string): boolean {
  let original: Database.Database | undefined;
  try {
    original = new Database(path, { readonly: true });
    original.prepare('VACUUM INTO ?').run(copy);
    return true;
  } catch (error) {
    rmSync(copy, { force: true });
    if (error instanceof Database.SqliteError && /^SQLITE_(CANTOPEN|READONLY)/.test(error.code)) return false;
    throw error;
  } finally {
    original?.close();
  }
}

function checkRoom(path: string): void {
  const needed = statSync(path).size + (statSync(`${path}-wal`, { throwIfNoEntry: false })?.size ?? 0);
  const { bavail, bsize } = statfsSync(tmpdir());
  if (bavail * bsize > needed) return;
  throw new StoreError(
    'store.full',
    `${path} can be read here only through a copy, and ${tmpdir()} has no room for its ${needed} bytes.`,
    'Free some space there, or copy the workspace to a disk that can be written.',
  );
}
