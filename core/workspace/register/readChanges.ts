import type { Kysely } from 'kysely';
import type { Tables } from '../tables.ts';
import { buildRows } from './buildRows.ts';
import { readEntries } from './readEntries.ts';
import { CHANGED, type Changes } from './tellChanges.ts';

/** What a visit differs in from earlier ones to its pole, as the register finds it; null where nothing is told. */
export async function readChanges(db: Kysely<Tables>, visitId: number): Promise<Changes['finding'] | null> {
  const { pole_id } = await db
    .selectFrom('visits')
    .select('pole_id')
    .where('visit_id', '=', visitId)
    .executeTakeFirstOrThrow();
  const row = buildRows(await readEntries(db, [pole_id])).find((own) => own.visitId === visitId);
  return row?.findings.find(({ id }) => id === CHANGED) ?? null;
}
