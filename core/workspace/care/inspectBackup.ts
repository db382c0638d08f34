import Database from 'better-sqlite3';
import { StoreError } from '../../errors.ts';
import { migrations } from '../migrations/index.ts';
import { checkApplication, checkForm, checkStart, readForm, secure } from '../opening/index.ts';
import { toStoreError } from '../storeErrors.ts';
import { checkWorkspace } from './checkWorkspace.ts';
import { proveWorkspace } from './proveWorkspace.ts';
import type { Proof } from './provingParts.ts';

/**
 * Looks at a backup as a restore would need it: whole, of a form that this program knows, and as its trail tells.
 * @returns the proof; null for a form that had no trail yet
 * @throws StoreError `backup.damaged`, `store.notAWorkspace`, `store.form`, or what SQLite reports
 */
export function inspectBackup(path: string): Proof | null {
  checkStart(path);
  let database: Database.Database | undefined;
  try {
    database = new Database(path, { readonly: true });
    checkApplication(database, path);
    secure(database);
    const form = readForm(database);
    if (form <= migrations.length) checkForm(database, form, path);
    const { faults } = checkWorkspace(database);
    if (faults.length > 0) {
      throw new StoreError(
        'backup.damaged',
        `The backup ${path} is damaged: ${faults[0]}`,
        'Take an older backup, and look after the disk that this one lies on.',
      );
    }
    return hasTrail(database) ? proveWorkspace(database) : null;
  } catch (error) {
    throw toStoreError(error, path);
  } finally {
    database?.close();
  }
}

function hasTrail(database: Database.Database): boolean {
  return (
    database.prepare("SELECT 1 FROM main.sqlite_schema WHERE type = 'table' AND name = 'trail'").get() !==
    undefined
  );
}
