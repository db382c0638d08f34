import { randomUUID } from 'node:crypto';
import pg from 'pg';
import { inject, onTestFinished } from 'vitest';
import { openTeamStore, type TeamStore } from '../../core/workspace/index.ts';
import { TEMPLATE } from './globalSetup.ts';

/** True where PostgreSQL is installed; the run says aloud where it is not. */
export const hasPostgres = (): boolean => inject('postgres') !== null;

/** Connection string of a database of the test's own, as its keeper; gone after the test. @param options.prepared - with an empty store @default true */
export async function makeDatabase({ prepared = true } = {}): Promise<string> {
  const admin = inject('postgres')!;
  const name = `t_${randomUUID().replaceAll('-', '')}`;
  await run(
    admin,
    `CREATE DATABASE ${name} OWNER store_keeper TEMPLATE ${prepared ? TEMPLATE : 'template0'} STRATEGY file_copy`,
  );
  onTestFinished(async () => void (await run(admin, `DROP DATABASE ${name} WITH (FORCE)`)));
  return placeOf(name, 'store_keeper');
}

/** The same database, as another person. */
export function asUser(place: string, user: string): string {
  return placeOf(new URL(place).pathname.slice(1), user);
}

/** A new team store, closed after the test. */
export async function makeTeamStore(): Promise<TeamStore> {
  const store = await openTeamStore(await makeDatabase());
  onTestFinished(() => store.close());
  return store;
}

/** A person who may log in, with the rights of a role; gone after the test. */
export async function makeUser(role: string | null): Promise<string> {
  const admin = inject('postgres')!;
  const name = `u_${randomUUID().replaceAll('-', '')}`;
  await run(admin, `CREATE ROLE ${name} LOGIN${role === null ? '' : ` IN ROLE ${role}`}`);
  onTestFinished(async () => void (await run(admin, `DROP ROLE ${name}`)));
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
