import Database from 'better-sqlite3';
import { z } from 'zod';
import { StoreError } from '../errors.ts';
import { isTeamPlace, toTeamError } from './team/index.ts';

const BY_CODE: readonly { prefix: string; code: string; what: string; hint: string }[] = [
  {
    prefix: 'SQLITE_BUSY',
    code: 'store.busy',
    what: 'is being written by another program',
    hint: 'Wait until it is done, or close the other window on this workspace, then try again.',
  },
  {
    prefix: 'SQLITE_FULL',
    code: 'store.full',
    what: 'cannot grow: the disk is full',
    hint: 'Free some space and try again; what was stored before is unharmed.',
  },
  {
    prefix: 'SQLITE_IOERR_SHMSIZE',
    code: 'store.full',
    what: 'cannot be opened: the disk is full',
    hint: 'Free some space and open it again; what was stored before is unharmed.',
  },
  {
    prefix: 'SQLITE_READONLY',
    code: 'store.readOnly',
    what: 'cannot be written',
    hint: 'Check the rights of the file and of its folder.',
  },
  {
    prefix: 'SQLITE_CANTOPEN',
    code: 'store.open',
    what: 'cannot be opened',
    hint: 'Check the path, and the rights of the file and of its folder.',
  },
  {
    prefix: 'SQLITE_NOTADB',
    code: 'store.notAWorkspace',
    what: 'is no Stemroot workspace',
    hint: 'Choose a *.stemroot file that Stemroot made.',
  },
  {
    prefix: 'SQLITE_CORRUPT',
    code: 'store.damaged',
    what: 'is damaged',
    hint: 'Restore it from a backup, or import the visits into a new workspace.',
  },
  {
    prefix: 'SQLITE_CONSTRAINT',
    code: 'store.refused',
    what: 'refuses the change',
    hint: 'Evidence and results are written once; add a new visit, assessment or ruling instead.',
  },
];

/** What the operating system refuses when files are copied, named or made (errno(3)), as the nearest error of SQLite. */
const BY_SYSTEM_CODE: Readonly<Record<string, string>> = {
  ENOSPC: 'SQLITE_FULL',
  EDQUOT: 'SQLITE_FULL',
  EROFS: 'SQLITE_READONLY',
  EACCES: 'SQLITE_READONLY',
  EPERM: 'SQLITE_READONLY',
  ENOENT: 'SQLITE_CANTOPEN',
};

/**
 * Turns an error of the database or of the operating system into a StoreError that names the file, and so what is thrown over a stored value that this program did not
 * write: requests are checked before, so a value that is refused here came out of the file. Any other error is returned as it is.
 */
export function toStoreError(error: unknown, path: string): unknown {
  if (error instanceof z.ZodError || error instanceof SyntaxError) {
    return new StoreError(
      'store.damaged',
      `${path} holds a value that this program did not write (${describeValueError(error)}).`,
      'Look into the file with: npm run -s stemroot -- care prove <workspace>, and restore it from a backup.',
    );
  }
  if (isTeamPlace(path)) return toTeamError(error, path);
  const code = findCode(error);
  if (code === null) return error;
  const known = BY_CODE.find(({ prefix }) => code.startsWith(prefix));
  const { message } = error as Error;
  return new StoreError(
    known?.code ?? 'store.failed',
    `${path} ${known?.what ?? 'cannot be read or written'} (${error instanceof Database.SqliteError ? `${code}: ${message}` : message}).`,
    known?.hint ?? 'Try again; if it stays, copy the file to another disk and open the copy.',
  );
}

/** Code of an error of SQLite or of the operating system; null for any other. */
function findCode(error: unknown): string | null {
  if (error instanceof Database.SqliteError) return error.code;
  const { code, syscall } = error as NodeJS.ErrnoException;
  return typeof syscall === 'string' && code !== undefined ? (BY_SYSTEM_CODE[code] ?? code) : null;
}

function describeValueError(error: z.ZodError | SyntaxError): string {
  if (error instanceof SyntaxError) return error.message;
  const [issue] = error.issues;
  return issue ? `field ${issue.path.join('.')}: ${issue.message}` : 'a field';
}
