import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { afterAll, inject, onTestFinished } from 'vitest';
import { openTeamStore, type TeamStore } from '../../core/workspace/index.ts';
import { TEMPLATE } from './globalSetup.ts';
import { askAsSuperuser, emptyStore } from './superuser.ts';

/** True where PostgreSQL is installed; the run says aloud where it is not. */
export const hasPostgres = (): boolean => inject('postgres') !== null;

type Used = { readonly database: string; readonly store: TeamStore | null };

/**
 * Databases of this test file that a test has done with, some with a store that is still open: the next test gets one emptied, at a
 * tenth of what a new one costs. They go with the server.
 */
const used: Used[] = [];

afterAll(async () => {
  for (const { store } of used) await store?.close();
});

/**
 * Connection string of a database of the test's own, as its keeper. A test may fill it in any way, but has to leave its tables as they
 * were made.
 * @param options.prepared - with an empty store @default true
 */
export async function makeDatabase({ prepared = true } = {}): Promise<string> {
  if (!prepared) return placeOf(await createDatabase('template0'), 'store_keeper');
  const known = used.pop();
  await known?.store?.close();
  const database = known?.database ?? (await createDatabase(TEMPLATE));
  if (known) await emptyStore(database, { alone: true });
  onTestFinished(() => void used.push({ database, store: null }));
  return placeOf(database, 'store_keeper');
}

/** A new team store; a test may close it. */
export async function makeTeamStore(): Promise<TeamStore> {
  const { database, store } = await findOrOpenStore();
  onTestFinished(() => void used.push({ database, store: store.pool.ended ? null : store }));
  return store;
}

async function findOrOpenStore(): Promise<{ database: string; store: TeamStore }> {
  const known = used.pop();
  const database = known?.database ?? (await createDatabase(TEMPLATE));
  if (known) await emptyStore(database, { alone: known.store === null });
  const store = known?.store ?? (await openTeamStore(placeOf(database, 'store_keeper')));
  return { database, store };
}

async function createDatabase(template: string): Promise<string> {
  const name = `t_${randomUUID().replaceAll('-', '')}`;
  await askAsSuperuser('postgres', `CREATE DATABASE ${name} OWNER store_keeper TEMPLATE ${template}`);
  return name;
}

/** Name of the database that a connection string leads to. */
export function databaseOf(place: string): string {
  return new URL(place).pathname.slice(1);
}

/** The same database, as another person. */
export function asUser(place: string, user: string): string {
  return placeOf(databaseOf(place), user);
}

/** A person who may log in, with the rights of a role; gone after the test. */
export async function makeUser(role: string | null): Promise<string> {
  const name = `u_${randomUUID().replaceAll('-', '')}`;
  await askAsSuperuser('postgres', `CREATE ROLE ${name} LOGIN${role === null ? '' : ` IN ROLE ${role}`}`);
  onTestFinished(async () => void (await askAsSuperuser('postgres', `DROP ROLE ${name}`)));
  return name;
}

/** Runs SQL over a plain connection, past the program. */
export async function run(place: string, text: string, values: unknown[] = []): Promise<unknown[]> {
  const client = new pg.Client({ connectionString: place });
  await client.connect();
  try {
    return (await client.query(text, values)).rows;
  } finally {
    await client.end();
  }
}

function placeOf(database: string, user: string): string {
  const url = new URL(inject('postgres')!);
  url.username = user;
  url.pathname = database;
  return url.href;
}
