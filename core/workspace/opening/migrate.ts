import type Database from 'better-sqlite3';
import { migrations } from '../migrations/index.ts';
import { listStrayRows, recordForms } from '../trail/index.ts';
import { applyMigrations } from './applyMigrations.ts';

/** How many migrations a file has had. */
export function readForm(database: Database.Database): number {
  return database.pragma('user_version', { simple: true }) as number;
}

/**
 * Brings a file to the newest form, and writes that into its trail; all of it or nothing.
 * @param options.moving - leave the trail of a new file empty, for one that is to be moved here. @default false
 */
export function migrate(database: Database.Database, { moving = false } = {}): void {
  const run = database.transaction(() => {
    // another connection may have been first
    const form = readForm(database);
    if (form === migrations.length) return;
    const stray = listStrayRows(database);
    applyMigrations(database, form, migrations.length);
    database.pragma(`user_version = ${migrations.length}`);
    if (form > 0 || !moving) recordForms(database, describeChange(form), stray);
  });
  if (readForm(database) < migrations.length) run.immediate();
}

function describeChange(form: number) {
  const after = { form: migrations.length };
  if (form === 0) return { action: 'make', subject: 'this workspace', after } as const;
  return { action: 'migrate', subject: 'this workspace', before: { form }, after } as const;
}
