import { type ExpressionBuilder, type Kysely, sql } from 'kysely';
import { isOneOf } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';

/** A visit to another pole that has a recording of a visit, byte for byte. */
export type Sharer = { readonly poleId: string; readonly date: string };

/** Where more poles have the same recording, all but so many have been told of another one already. */
const MOST_TOLD_ANEW = 20;

/**
 * Of visits that have a recording of another pole's visit, such a one; which of them, where there are several, is not said. A visit that was
 * brought in again, for the same pole and date, does not stand any more: where the recordings were its fault, bringing it in with its own
 * settles the matter.
 * @param ids - identities of these visits, or of their poles
 */
export async function readSharers(
  db: Kysely<Tables>,
  column: 'own.visit_id' | 'own.pole_id',
  ids: readonly number[],
): Promise<Map<number, Sharer>> {
  const rows = await db
    .selectFrom('visits as own')
    .innerJoin('visit_recordings as heard', 'heard.visit_id', 'own.visit_id')
    .innerJoin('visits as other', (join) => join.on('other.visit_id', '=', findSharer))
    .innerJoin('poles', 'poles.pole_id', 'other.pole_id')
    .where(isOneOf(db, column, ids))
    .select(['own.visit_id', 'code', 'other.measured_on'])
    .orderBy('own.visit_id')
    .orderBy('heard.position', 'desc')
    .execute();
  return new Map(rows.map((row) => [row.visit_id, { poleId: row.code, date: row.measured_on }]));
}

type Pair = { own: Tables['visits']; heard: Tables['visit_recordings'] };

/** One is enough, and found at once however many there are. */
function findSharer(pair: ExpressionBuilder<Tables & Pair, 'own' | 'heard'>) {
  return pair
    .selectFrom('visit_recordings as same')
    .innerJoin('visits as candidate', 'candidate.visit_id', 'same.visit_id')
    .whereRef('same.recording_sha256', '=', 'heard.recording_sha256')
    .whereRef('candidate.pole_id', '<>', 'own.pole_id')
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('visits as again')
            .select('again.visit_id')
            .whereRef('again.pole_id', '=', 'candidate.pole_id')
            .whereRef('again.measured_on', '=', 'candidate.measured_on')
            .where(sql.ref('again.visit_id'), '>', sql.ref('candidate.visit_id')),
        ),
      ),
    )
    .select('candidate.visit_id')
    .limit(1);
}

/** Other poles whose rows these poles are told in. @param poleNumbers - identities of poles */
export async function listSharingPoles(
  db: Kysely<Tables>,
  poleNumbers: readonly number[],
): Promise<number[]> {
  const rows = await db
    .selectFrom('visits as own')
    .innerJoin('visit_recordings as heard', 'heard.visit_id', 'own.visit_id')
    .innerJoin('visit_recordings as same', 'same.recording_sha256', 'heard.recording_sha256')
    .innerJoin('visits as other', 'other.visit_id', 'same.visit_id')
    .where(isOneOf(db, 'own.pole_id', poleNumbers))
    .whereRef('other.pole_id', '<>', 'own.pole_id')
    .select('other.pole_id')
    .distinct()
    .limit(MOST_TOLD_ANEW * poleNumbers.length)
    .execute();
  return rows.map(({ pole_id }) => pole_id);
}
