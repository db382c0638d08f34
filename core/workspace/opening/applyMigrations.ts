import type Database from 'better-sqlite3';
import { migrations } from '../migrations/index.ts';

/** Runs the migrations that follow on form `from`, up to form `to`. The guard against changing the schema by hand is lifted meanwhile. */
export function applyMigrations(database: Database.Database, from: number, to: number): void {
  database.unsafeMode(true);
  try {
    for (const { up } of migrations.slice(from, to)) database.exec(up);
  } finally {
    database.unsafeMode(false);
  }
}
