import Database from 'better-sqlite3';
import type { Store } from '../../core/workspace/index.ts';
import { databaseOf } from '../team/makeTeamStore.ts';
import { askAsSuperuser, HINDERED_BY_NOTHING } from '../team/superuser.ts';

/** Runs SQL over a connection of its own, past the program; what the database itself holds to it is held to. @returns rows */
export async function runPast({ kind, path }: Store, text: string): Promise<unknown[]> {
  if (kind === 'team') return askAsSuperuser(databaseOf(path), text);
  return withFile(path, (database) => {
    const statement = database.prepare(text);
    if (statement.reader) return statement.all();
    statement.run();
    return [];
  });
}

/** Runs SQL that triggers and references would refuse, and leaves those as they were. */
export async function forcePast({ kind, path }: Store, text: string): Promise<void> {
  if (kind === 'team') {
    await askAsSuperuser(databaseOf(path), `${HINDERED_BY_NOTHING} ${text}`);
  } else {
    withFile(path, (database) => forceFile(database, text));
  }
}

/** The same for an open file. */
export function forceFile(database: Database.Database, text: string): void {
  const triggers = database.prepare("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger'").all() as {
    name: string;
    sql: string;
  }[];
  for (const { name } of triggers) database.exec(`DROP TRIGGER ${name}`);
  database.exec(text);
  for (const { sql } of triggers) database.exec(sql);
}

function withFile<T>(path: string, work: (database: Database.Database) => T): T {
  const database = new Database(path);
  try {
    return work(database);
  } finally {
    database.close();
  }
}
