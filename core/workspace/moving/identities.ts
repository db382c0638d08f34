import { type Kysely, sql } from 'kysely';
import { isTeam } from '../sqlWords.ts';
import type { Store } from '../store.ts';
import type { Tables } from '../tables.ts';
import { TOLD_TABLES } from './movedTables.ts';

/** The last identity that a table gave to a row, also to one that is gone: none is ever given twice. */
type Identity = { readonly table: string; readonly last: number };

export async function readIdentities({ db }: Store): Promise<Identity[]> {
  if (!isTeam(db)) {
    const { rows } =
      await sql<Identity>`SELECT name AS "table", seq AS last FROM main.sqlite_sequence`.execute(db);
    return rows;
  }
  const identities: Identity[] = [];
  for (const { table, sequence } of await listSequences(db)) {
    const { rows } = await sql<{ last_value: number; is_called: boolean }>`
      SELECT last_value, is_called FROM ${sql.raw(sequence)}`.execute(db);
    if (rows[0]!.is_called) identities.push({ table, last: rows[0]!.last_value });
  }
  return identities;
}

export async function writeIdentities(db: Kysely<Tables>, identities: readonly Identity[]): Promise<void> {
  const sequences = isTeam(db) ? await listSequences(db) : [];
  for (const { table, last } of identities) {
    if (isTeam(db)) {
      const own = sequences.find((sequence) => sequence.table === table);
      if (own) await sql`SELECT setval(${own.sequence}::regclass, ${last})`.execute(db);
    } else {
      await sql`DELETE FROM main.sqlite_sequence WHERE name = ${table}`.execute(db);
      await sql`INSERT INTO main.sqlite_sequence (name, seq) VALUES (${table}, ${last})`.execute(db);
    }
  }
}

/** Sequences that give identities, by table. */
async function listSequences(db: Kysely<Tables>): Promise<{ table: string; sequence: string }[]> {
  const columns = TOLD_TABLES.map(
    ({ name, keyColumns }) =>
      sql`(${sql.lit(name)}, pg_get_serial_sequence(${sql.lit(name)}, ${sql.lit(keyColumns[0]!)}))`,
  );
  const { rows } = await sql<{ table: string; sequence: string }>`
    SELECT * FROM (VALUES ${sql.join(columns)}) AS given ("table", sequence) WHERE sequence IS NOT NULL`.execute(
    db,
  );
  return rows;
}
