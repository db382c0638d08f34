import type { Kysely } from 'kysely';
import type { RegisterRow } from '../contract.ts';
import type { Tables } from '../tables.ts';
import { unknownVisit } from '../visits.repository.ts';

/** Identities that one query asks for. */
const ROWS_A_QUERY = 500;

/** Rows of visits as they are shown, in the order of the identities. @throws InputError `visit.unknown` */
export async function readRows(db: Kysely<Tables>, visitIds: readonly number[]): Promise<RegisterRow[]> {
  const rows: RegisterRow[] = [];
  for (let i = 0; i < visitIds.length; i += ROWS_A_QUERY) {
    const ids = visitIds.slice(i, i + ROWS_A_QUERY);
    const stored = await db.selectFrom('register_texts').selectAll().where('visit_id', 'in', ids).execute();
    const texts = new Map(stored.map(({ visit_id, row_json }) => [visit_id, row_json]));
    for (const visitId of ids) {
      const text = texts.get(visitId);
      if (text === undefined) throw unknownVisit(visitId);
      rows.push(JSON.parse(text) as RegisterRow);
    }
  }
  return rows;
}
