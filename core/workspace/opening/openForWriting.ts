import Database from 'better-sqlite3';
import { migrations } from '../migrations/index.ts';
import { watchTables } from '../trail/index.ts';
import { checkForm } from './checkForm.ts';
import { checkPages } from './checkPages.ts';
import { APPLICATION_ID, checkApplication } from './identify.ts';
import { migrate, readForm } from './migrate.ts';
import { secure } from './secure.ts';

/** How long a connection waits for another of this process to end its transaction. */
const BUSY_TIMEOUT_MS = 5000;

/**
 * Opens a file for writing and brings it to the newest form.
 * @param checked - look at every page first
 * @param moving - leave the trail of a new file empty
 * @returns null where the file has a newer form than this program knows; nothing is written then
 */
export function openForWriting(
  path: string,
  { isNew = false, checked = true, moving = false },
): Database.Database | null {
  const database = new Database(path, { timeout: BUSY_TIMEOUT_MS });
  try {
    if (isNew) database.pragma(`application_id = ${APPLICATION_ID}`);
    checkApplication(database, path);
    const form = readForm(database);
    if (form > migrations.length) {
      database.close();
      return null;
    }
    secure(database);
    checkForm(database, form, path);
    if (checked) checkPages(database, path);
    database.pragma('journal_mode = WAL');
    database.pragma('synchronous = FULL');
    database.pragma('foreign_keys = ON');
    migrate(database, { moving });
    watchTables(database);
    return database;
  } catch (error) {
    database.close();
    throw error;
  }
}
