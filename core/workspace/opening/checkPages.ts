import type Database from 'better-sqlite3';
import { StoreError } from '../../errors.ts';

/**
 * SQLite's quick check of every page of the file (sqlite.org, PRAGMA quick_check): all that integrity_check does but comparing
 * indexes with their tables. @throws StoreError `store.damaged`
 */
export function checkPages(database: Database.Database, path: string): void {
  const found = database.pragma('quick_check(1)', { simple: true });
  if (found === 'ok') return;
  throw new StoreError(
    'store.damaged',
    `${path} is damaged (${String(found).split('\n').join(' ').slice(0, 200)}).`,
    'Put a backup in its place with: npm run -s stemroot -- care restore <workspace>',
  );
}
