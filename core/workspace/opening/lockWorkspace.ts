import { existsSync, realpathSync } from 'node:fs';
import Database from 'better-sqlite3';
import { StoreError } from '../../errors.ts';

/** Ending of the empty file beside a workspace on which its writer holds a lock. */
const LOCK_ENDING = '-lock';

export type Lock =
  | { readonly state: 'held'; release(): void }
  | { readonly state: 'elsewhere' }
  | { readonly state: 'unwritable' };

/**
 * Takes the right to be the one program that writes a workspace, for as long as the program lives. SQLite is asked for its own
 * lock on an empty file beside the workspace: the operating system lets go of it however the program ends, so that no lock is
 * ever left behind, and no clock and no process number is trusted. The empty file stays.
 * @returns `elsewhere` where another program, or another opening in this one, has it; `unwritable` where nothing can be written
 * beside the workspace
 */
export function lockWorkspace(path: string): Lock {
  let file: Database.Database | undefined;
  try {
    file = new Database(`${locate(path)}${LOCK_ENDING}`, { timeout: 0 });
    // nothing is ever written, so there is nothing to keep a journal of
    file.pragma('journal_mode = MEMORY');
    file.exec('BEGIN IMMEDIATE');
  } catch (error) {
    file?.close();
    const code = error instanceof Database.SqliteError ? error.code : '';
    if (code.startsWith('SQLITE_BUSY')) return { state: 'elsewhere' };
    if (code.startsWith('SQLITE_CANTOPEN') || code.startsWith('SQLITE_READONLY'))
      return { state: 'unwritable' };
    throw new StoreError(
      'store.lock',
      `${path} cannot be locked against other programs (${(error as Error).message}).`,
      `Keep the workspace on a disk of this machine; where ${path}${LOCK_ENDING} is a file of another kind, move it away.`,
    );
  }
  const held = file;
  return { state: 'held', release: () => void held.close() };
}

/** The file itself where the path is a link to it, so that all ways to it meet at one lock. */
function locate(path: string): string {
  return existsSync(path) ? realpathSync(path) : path;
}
