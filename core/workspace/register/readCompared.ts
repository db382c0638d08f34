import type { Kysely } from 'kysely';
import type { Assessment } from '../../assessment.ts';
import { CHANGED, RECORDINGS_OF_ANOTHER_POLE } from '../../speakAgainstKeeping.ts';
import type { Tables } from '../tables.ts';
import { buildRows } from './buildRows.ts';
import { readEntries } from './readEntries.ts';

/** What is told of a visit beside the other visits of the workspace, as the register finds it. */
export async function readCompared(db: Kysely<Tables>, visitId: number): Promise<Assessment['findings']> {
  const { pole_id } = await db
    .selectFrom('visits')
    .select('pole_id')
    .where('visit_id', '=', visitId)
    .executeTakeFirstOrThrow();
  const row = buildRows(await readEntries(db, [pole_id])).find((own) => own.visitId === visitId);
  return (row?.findings ?? []).filter(({ id }) => id === CHANGED || id === RECORDINGS_OF_ANOTHER_POLE);
}
