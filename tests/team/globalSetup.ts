import pg from 'pg';
import type { TestProject } from 'vitest/node';
import { prepareTeamStore } from '../../core/workspace/index.ts';
import { findPostgres, startPostgres } from './startPostgres.ts';

/** A prepared store without a row, which each test takes its own copy of. */
export const TEMPLATE = 'template_store';

declare module 'vitest' {
  interface ProvidedContext {
    /** What kind of store a test of the store set makes. */
    engine: 'file' | 'team';
    /** Connection string of the superuser of a PostgreSQL for the whole run; null where there is none. */
    postgres: string | null;
  }
}

/** One PostgreSQL for the whole run. */
export default async function setUp(project: TestProject): Promise<() => Promise<void>> {
  const programs = findPostgres();
  if (programs === null) {
    process.stdout.write(
      'skipped: tests of the team store; PostgreSQL is not installed (Debian: postgresql)\n',
    );
    project.provide('postgres', null);
    return async () => {};
  }
  const server = await startPostgres(programs);
  try {
    await makeTemplate(server.admin);
  } catch (error) {
    await server.stop();
    throw error;
  }
  project.provide('postgres', server.admin);
  return () => server.stop();
}

async function makeTemplate(admin: string): Promise<void> {
  const client = new pg.Client({ connectionString: admin });
  await client.connect();
  // no superuser: what a keeper of a team store has
  await client.query('CREATE ROLE store_keeper LOGIN CREATEROLE');
  await client.query(`CREATE DATABASE ${TEMPLATE} OWNER store_keeper`);
  await client.end();
  const template = new URL(admin);
  template.username = 'store_keeper';
  template.pathname = TEMPLATE;
  await prepareTeamStore(template.href);
}
