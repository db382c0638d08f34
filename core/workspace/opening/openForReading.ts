import Database from 'better-sqlite3';
import { migrations } from '../migrations/index.ts';
import { checkForm } from './checkForm.ts';
import { checkPages } from './checkPages.ts';
import { type Copy, copyAside } from './copyAside.ts';
import { checkApplication } from './identify.ts';
import { migrate, readForm } from './migrate.ts';
import { secure } from './secure.ts';

export type OpenedForReading = {
  database: Database.Database;
  form: number;
  /** The copy that is read in the place of the file; null where the file itself is. */
  copy: Copy | null;
};

/**
 * Opens a file for reading where it lies; a copy of it where SQLite cannot read it there, or where its form is an older one.
 * @param checked - refuse a file that is damaged or changed by another program
 */
export function openForReading(path: string, { checked = true }): OpenedForReading {
  const direct = readWhereItLies(path);
  if (direct && direct.form >= migrations.length) return inspect({ ...direct, copy: null }, path, checked);
  direct?.database.close();
  const copy = copyAside(path);
  try {
    bringForward(copy.path, path, checked);
    const database = new Database(copy.path, { readonly: true });
    return inspect({ database, form: readForm(database), copy }, path, checked);
  } catch (error) {
    copy.remove();
    throw error;
  }
}

/** Null where SQLite finds no place for the files that a write-ahead log needs beside it. */
function readWhereItLies(path: string): { database: Database.Database; form: number } | null {
  const database = new Database(path, { readonly: true });
  try {
    return { database, form: readForm(database) };
  } catch (error) {
    database.close();
    if (error instanceof Database.SqliteError && /^SQLITE_(CANTOPEN|READONLY)/.test(error.code)) return null;
    throw error;
  }
}

function bringForward(copy: string, path: string, checked: boolean): void {
  const database = new Database(copy);
  try {
    checkApplication(database, path);
    secure(database);
    if (checked) checkForm(database, readForm(database), path);
    migrate(database);
  } finally {
    database.close();
  }
}

function inspect(opened: OpenedForReading, path: string, checked: boolean): OpenedForReading {
  try {
    checkApplication(opened.database, path);
    secure(opened.database);
    if (checked) {
      checkForm(opened.database, opened.form, path);
      checkPages(opened.database, path);
    }
    return opened;
  } catch (error) {
    opened.database.close();
    throw error;
  }
}
