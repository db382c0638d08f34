import { type Kysely, sql } from 'kysely';
import { isOneOf } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';

/** A visit to another pole that has a recording of a visit, byte for byte. */
export type Sharer = { readonly poleId: string; readonly date: string };

/**
 * Visits to other poles that have a recording of some visits, by these. A visit that was brought in again, for the same
 * pole and date, does not stand any more: where the recordings were its fault, bringing it in with its own settles the matter.
 * @param ids - identities of these visits, or of their poles
 */
export async function readSharers(
  db: Kysely<Tables>,
  column: 'own.visit_id' | 'own.pole_id',
  ids: readonly number[],
): Promise<Map<number, Sharer[]>> {
  const rows = await selectShared(db, column, ids)
    .innerJoin('poles', 'poles.pole_id', 'other.pole_id')
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('visits as again')
            .select('again.visit_id')
            .whereRef('again.pole_id', '=', 'other.pole_id')
            .whereRef('again.measured_on', '=', 'other.measured_on')
            .where(sql.ref('again.visit_id'), '>', sql.ref('other.visit_id')),
        ),
      ),
    )
    .select(['own.visit_id', 'code', 'other.measured_on'])
    .distinct()
    .execute();
  const sharers = Map.groupBy(
    rows.sort((a, b) => compare(a.code, b.code) || compare(a.measured_on, b.measured_on)),
    ({ visit_id }) => visit_id,
  );
  return new Map(
    [...sharers].map(([visitId, own]) => [
      visitId,
      own.map(({ code, measured_on }) => ({ poleId: code, date: measured_on })),
    ]),
  );
}

/** Other poles whose rows these poles are told in. @param poleNumbers - identities of poles */
export async function listSharingPoles(
  db: Kysely<Tables>,
  poleNumbers: readonly number[],
): Promise<number[]> {
  const rows = await selectShared(db, 'own.pole_id', poleNumbers)
    .select('other.pole_id')
    .distinct()
    .execute();
  return rows.map(({ pole_id }) => pole_id);
}

function selectShared(db: Kysely<Tables>, column: string, ids: readonly number[]) {
  return db
    .selectFrom('visits as own')
    .innerJoin('visit_recordings as heard', 'heard.visit_id', 'own.visit_id')
    .innerJoin('visit_recordings as same', 'same.recording_sha256', 'heard.recording_sha256')
    .innerJoin('visits as other', 'other.visit_id', 'same.visit_id')
    .where(isOneOf(db, column, ids))
    .whereRef('other.pole_id', '<>', 'own.pole_id');
}

function compare(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}
