import { CompiledQuery, type Kysely, sql } from 'kysely';
import { ROW_INDEXES } from '../migrations/20261127T170000_register.ts';
import { isTeam } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';
import { WORD_INDEX } from '../team/migrations/20261127T170000_register.ts';

type Db = Kysely<Tables>;

/**
 * Takes the indexes of the register's rows away, where this connection may: every row is to be written anew, and sorting all of them
 * once at the end costs a tenth of finding the place of each in fifteen orders. Queries are slower meanwhile, not other.
 */
export async function dropRowIndexes(transaction: Db): Promise<void> {
  if (!(await mayChangeIndexes(transaction))) return;
  const names = [...Object.keys(ROW_INDEXES), ...(isTeam(transaction) ? ['register_by_words'] : [])];
  for (const name of names) await run(transaction, `DROP INDEX IF EXISTS ${name}`);
}

/** Makes those that are away, each in a transaction of its own, where this connection may. */
export async function makeRowIndexes(db: Db): Promise<void> {
  const lacking = await listLacking(db);
  if (lacking.length === 0 || !(await mayChangeIndexes(db))) return;
  for (const name of lacking) {
    await db.transaction().execute((transaction) => run(transaction, ROW_INDEXES[name]!));
  }
  if (isTeam(db)) await db.transaction().execute((transaction) => run(transaction, WORD_INDEX));
}

async function listLacking(db: Db): Promise<string[]> {
  const { rows } = await (isTeam(db)
    ? sql<{
        name: string;
      }>`SELECT indexname AS name FROM pg_indexes WHERE schemaname = 'stemroot' AND tablename = 'register_rows'`
    : sql<{
        name: string;
      }>`SELECT name FROM main.sqlite_schema WHERE type = 'index' AND tbl_name = 'register_rows'`
  ).execute(db);
  const there = new Set(rows.map(({ name }) => name));
  return Object.keys(ROW_INDEXES).filter((name) => !there.has(name));
}

/** In a team store, whoever made its tables. */
async function mayChangeIndexes(db: Db): Promise<boolean> {
  if (!isTeam(db)) return true;
  const { rows } = await sql<{ may: boolean }>`
    SELECT pg_has_role(relowner, 'USAGE') AS may FROM pg_class WHERE oid = 'register_rows'::regclass`.execute(
    db,
  );
  return rows[0]!.may;
}

async function run(db: Db, text: string): Promise<void> {
  await db.executeQuery(CompiledQuery.raw(text));
}
