import pg from 'pg';
import { afterAll, inject } from 'vitest';
import { COMPOSITION } from '../../core/workspace/register/composition.ts';

/** One connection to each database that a test file asked for, closed at its end. */
const sessions = new Map<string, Promise<pg.Client>>();

afterAll(async () => {
  for (const session of sessions.values()) await (await session).end();
});

/** No trigger and no foreign key hinders what follows in the same text (PostgreSQL 15 documentation, 20.11.1). */
export const HINDERED_BY_NOTHING = 'SET LOCAL session_replication_role = replica;';

/** Runs SQL in a database as the one whom nothing is refused, past the program. @returns rows of the last statement */
export async function askAsSuperuser(database: string, text: string): Promise<unknown[]> {
  const session = await (sessions.get(database) ?? open(database));
  const result = (await session.query(text)) as pg.QueryResult | pg.QueryResult[];
  return (Array.isArray(result) ? result.at(-1)! : result).rows;
}

function open(database: string): Promise<pg.Client> {
  const place = new URL(inject('postgres')!);
  place.pathname = database;
  const client = new pg.Client({ connectionString: place.href, options: '-c search_path=stemroot' });
  const session = client.connect().then(() => client);
  sessions.set(database, session);
  return session;
}

/**
 * Takes a team store back to what the template holds: its first entry of the trail, the state of its register, and nothing else.
 * @param options.alone - also ends every other connection to it
 */
export async function emptyStore(database: string, { alone }: { alone: boolean }): Promise<void> {
  if (alone) {
    await askAsSuperuser(
      database,
      `SELECT pg_terminate_backend(pid) FROM pg_stat_activity
      WHERE datname = current_database() AND pid <> pg_backend_pid()`,
    );
  }
  await askAsSuperuser(
    database,
    `${HINDERED_BY_NOTHING}
    DO $$ DECLARE found record; BEGIN
      FOR found IN SELECT nspname AS name FROM pg_namespace
        WHERE nspname NOT IN ('stemroot', 'public', 'information_schema') AND nspname !~ '^pg_'
      LOOP EXECUTE format('DROP SCHEMA %I CASCADE', found.name); END LOOP;
      FOR found IN SELECT relname AS name FROM pg_class
        WHERE relnamespace = 'stemroot'::regnamespace AND relkind = 'r' AND relname NOT IN ('forms', 'trail', 'register_state')
      LOOP EXECUTE format('DELETE FROM %I', found.name); END LOOP;
      FOR found IN SELECT sequencename AS name FROM pg_sequences WHERE schemaname = 'stemroot' AND last_value IS NOT NULL
      LOOP PERFORM setval(found.name::regclass, 1, false); END LOOP;
    END $$;
    DELETE FROM trail WHERE seq > 1;
    UPDATE register_state SET composition = ${COMPOSITION}`,
  );
}
