import { CompiledQuery, Kysely, sql, type Transaction } from 'kysely';
import { StoreError } from '../../errors.ts';
import { settleRegister } from '../register/settleRegister.ts';
import type { Tables } from '../tables.ts';
import { appendTrail } from '../trail/index.ts';
import { teamMigrations } from './migrations/index.ts';
import { nameTeamPlace } from './place.ts';
import { readState } from './readState.ts';
import { GRANTS, ROLES } from './roles.ts';
import { createTeamPool, TeamDialect } from './teamDialect.ts';
import { toTeamError } from './teamErrors.ts';

export type Prepared = { readonly formBefore: number; readonly form: number };

/**
 * Makes the tables of a team store, or brings them to the newest form, with the roles and what each may do; all of it or nothing.
 * Needs the right to make a schema in the database and, the first time on a server, to make roles; none of a superuser.
 * The rows of its register are computed afterwards, step by step; done again, it goes on where that was broken off.
 * @param options.empty - leave the trail empty too, for one that is to be moved here. @default false
 * @param options.tell - called with the number of poles whose rows are still to be computed
 * @throws StoreError
 */
export async function prepareTeamStore(
  place: string,
  { empty = false, tell }: { empty?: boolean; tell?: (poles: number) => void } = {},
): Promise<Prepared> {
  const name = nameTeamPlace(place);
  const db = new Kysely<Tables>({
    dialect: new TeamDialect({ pool: createTeamPool(place, { most: 1 }), readOnly: null }),
  });
  try {
    const prepared = await db.transaction().execute((transaction) => prepare(transaction, { name, empty }));
    await settleRegister(db, { isAlone: true, ...(tell && { tell }) });
    return prepared;
  } catch (error) {
    throw toTeamError(error, name);
  } finally {
    await db.destroy();
  }
}

async function prepare(db: Transaction<Tables>, { name, empty }: { name: string; empty: boolean }) {
  const run = (text: string) => db.executeQuery(CompiledQuery.raw(text));
  const { form: formBefore } = await readState(db);
  if (formBefore === null || formBefore > teamMigrations.length) throw refuse(name, formBefore);
  await makeRoles(db);
  if (formBefore === 0) {
    await run(`CREATE SCHEMA stemroot;
      CREATE TABLE stemroot.forms (number integer PRIMARY KEY, name text NOT NULL, made_at timestamptz NOT NULL DEFAULT now())`);
  }
  for (const [i, { name: form, up }] of teamMigrations.entries()) {
    if (i < formBefore) continue;
    await run(up);
    await sql`INSERT INTO stemroot.forms (number, name) VALUES (${i + 1}, ${form})`.execute(db);
  }
  await run(GRANTS);
  const form = teamMigrations.length;
  if (form > formBefore && !empty) {
    const entry = { subject: 'this workspace', after: { form } } as const;
    await appendTrail(
      db,
      formBefore === 0
        ? { action: 'make', ...entry }
        : { action: 'migrate', before: { form: formBefore }, ...entry },
    );
  }
  return { formBefore, form };
}

/** Roles belong to the whole server; those of another store there are taken as they are. */
async function makeRoles(db: Transaction<Tables>): Promise<void> {
  const { rows } = await sql<{ rolname: string }>`
    SELECT rolname FROM pg_roles WHERE rolname IN (${sql.join(Object.values(ROLES))})`.execute(db);
  for (const role of Object.values(ROLES)) {
    if (!rows.some(({ rolname }) => rolname === role)) {
      await db.executeQuery(CompiledQuery.raw(`CREATE ROLE ${role} NOLOGIN`));
    }
  }
}

function refuse(name: string, form: number | null): StoreError {
  return form === null
    ? new StoreError(
        'store.notAllowed',
        `${name} holds a team store that this connection may not enter.`,
        'Prepare it as the one who made it.',
      )
    : new StoreError(
        'store.newer',
        `${name} was prepared by a newer Stemroot (its form is ${form}, this program knows up to ${teamMigrations.length}).`,
        'Use the newer program.',
      );
}
