import type { Kysely } from 'kysely';
import type { Tables } from '../tables.ts';

/**
 * Who wrote a row that is known by one number, and when, as the trail tells. It is read from its end, where what somebody has just
 * changed is found soon.
 */
export async function findWriter(
  db: Kysely<Tables>,
  table: keyof Tables,
  id: number,
): Promise<{ by: string; at: string } | undefined> {
  return db
    .selectFrom('trail')
    .select(['who as by', 'at'])
    .where('rows_json', 'like', `%["${table}","[${id}]",%`)
    .orderBy('seq', 'desc')
    .limit(1)
    .executeTakeFirst();
}
