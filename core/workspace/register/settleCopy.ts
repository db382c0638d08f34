import Database from 'better-sqlite3';
import { Kysely } from 'kysely';
import { secure } from '../opening/index.ts';
import type { FileStore } from '../store.ts';
import type { Tables } from '../tables.ts';
import { watchTables } from '../trail/index.ts';
import { WriteFirstDialect } from '../writeFirstDialect.ts';
import { settleRegister } from './settleRegister.ts';

/**
 * Computes the register of a file that is read through a copy of the program's own, since its form was an older one: over a
 * connection that writes to the copy. The file itself is left as it is.
 */
export async function settleCopy({ forThreads }: FileStore): Promise<void> {
  const database = new Database(forThreads.path);
  const db = new Kysely<Tables>({ dialect: new WriteFirstDialect({ database, readOnly: null }) });
  try {
    secure(database);
    watchTables(database);
    await settleRegister(db);
  } finally {
    await db.destroy();
    database.close();
  }
}
