import { type Kysely, sql } from 'kysely';
import type { Tables } from '../tables.ts';
import { teamMigrations } from './migrations/index.ts';

/** A trigger as the migrations make it: its name, and the table that it watches over. */
const MADE = /CREATE (?:CONSTRAINT )?TRIGGER (\w+)[^;]*? ON (\w+)/g;

/**
 * Whether every trigger by which the database holds to the trail and to what is written once is there and switched on. An owner of
 * the tables could also have changed what a trigger does, which is not looked at.
 * @returns faults in words
 */
export async function checkTeamForm(db: Kysely<Tables>): Promise<string[]> {
  const { rows } = await sql<{ name: string; enabled: string }>`
    SELECT tgname AS name, tgenabled AS enabled FROM pg_trigger JOIN pg_class ON pg_class.oid = tgrelid
    WHERE relnamespace = 'stemroot'::regnamespace AND NOT tgisinternal`.execute(db);
  const enabled = new Map(rows.map((row) => [row.name, row.enabled]));
  const made = teamMigrations.flatMap(({ up }) => [...up.matchAll(MADE)]);
  return made.flatMap(([, trigger, table]) => {
    const state = enabled.get(trigger!);
    if (state === undefined) return [`The trigger "${trigger}" of ${table} is missing.`];
    return ['O', 'A'].includes(state) ? [] : [`The trigger "${trigger}" of ${table} is switched off.`];
  });
}
