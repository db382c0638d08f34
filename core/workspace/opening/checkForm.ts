import Database from 'better-sqlite3';
import { StoreError } from '../../errors.ts';
import { ROW_INDEXES } from '../migrations/20261127T170000_register.ts';
import { migrations } from '../migrations/index.ts';
import { applyMigrations } from './applyMigrations.ts';

type Item = { type: string; name: string; sql: string | null };

const LIST_ITEMS = `SELECT type, name, sql FROM main.sqlite_schema WHERE name NOT LIKE 'sqlite!_%' ESCAPE '!' ORDER BY name`;

/** What each form consists of, made once by its migrations. */
const knownForms = new Map<number, ReadonlyMap<string, string | null>>();

/**
 * Says what in a workspace file is not as the migrations of its form make it: tables, columns, indexes and the triggers
 * that keep evidence from being changed. The register's indexes are away while it is made anew. Of a form that this program does not know, it looks for views and
 * virtual tables only, which could run for ever: no form has any but the register's own.
 * @returns the name of the first that is missing, changed or strange; null where all is well
 */
export function findStrangeItem(database: Database.Database, form: number): string | null {
  const items = database.prepare(LIST_ITEMS).all() as Item[];
  if (form > migrations.length) {
    const newest = knowForm(migrations.length);
    const isOurs = ({ name, sql }: Item) => newest.get(name) === sql;
    const mayRun = ({ type, sql }: Item) => type === 'view' || /^\s*CREATE\s+VIRTUAL/i.test(sql ?? '');
    return items.find((item) => mayRun(item) && !isOurs(item))?.name ?? null;
  }
  const expected = knowForm(form);
  const strange = items.find(({ name, sql }) => !expected.has(name) || expected.get(name) !== sql);
  if (strange) return strange.name;
  const names = new Set(items.map(({ name }) => name));
  return [...expected.keys()].find((name) => !names.has(name) && !(name in ROW_INDEXES)) ?? null;
}

/** @throws StoreError `store.form` */
export function checkForm(database: Database.Database, form: number, path: string): void {
  const strange = findStrangeItem(database, form);
  if (strange === null) return;
  throw new StoreError(
    'store.form',
    `${path} is not as Stemroot made it: "${strange}" is missing, changed or not its own.`,
    'Another program changed the file. Restore it from a backup, or import the visits into a new workspace.',
  );
}

function knowForm(form: number): ReadonlyMap<string, string | null> {
  const known = knownForms.get(form) ?? makeForm(form);
  knownForms.set(form, known);
  return known;
}

function makeForm(form: number): ReadonlyMap<string, string | null> {
  const database = new Database(':memory:');
  try {
    applyMigrations(database, 0, form);
    return new Map((database.prepare(LIST_ITEMS).all() as Item[]).map(({ name, sql }) => [name, sql]));
  } finally {
    database.close();
  }
}
