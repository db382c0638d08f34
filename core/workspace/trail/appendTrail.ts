import { CompiledQuery, type Kysely, sql } from 'kysely';
import type { Tables } from '../tables.ts';
import { composeEntry, NO_ENTRY, type ToldRow, type TrailEntry } from './composeEntry.ts';
import { hashRow, type Row } from './hashRow.ts';
import { selectRow } from './trailTables.ts';

/**
 * Adds one entry to the trail, with the hash of every row that the transaction wrote since its start or the entry before.
 * To be called within the transaction of the change, after its last write; a commit without it is refused.
 * @param transaction - of the change
 * @returns number of the entry
 */
export async function appendTrail(transaction: Kysely<Tables>, entry: TrailEntry): Promise<number> {
  const rows = await hashTouchedRows(transaction);
  const previous = await transaction
    .selectFrom('trail')
    .select(['seq', 'sha256'])
    .orderBy('seq', 'desc')
    .limit(1)
    .executeTakeFirst();
  const row = composeEntry(entry, rows, previous ?? NO_ENTRY);
  await transaction.insertInto('trail').values(row).execute();
  await sql`DELETE FROM temp.touched`.execute(transaction);
  return row.seq;
}

/** Rows noted by {@link watchTables}, by table and key, each as it stands now. */
async function hashTouchedRows(transaction: Kysely<Tables>): Promise<ToldRow[]> {
  const touched = await sql<{ table_name: string; row_key: string; key_columns: string }>`
    SELECT table_name, row_key, (
      SELECT json_group_array(name)
      FROM (SELECT name FROM pragma_table_info(table_name, 'main') WHERE pk > 0 ORDER BY pk)
    ) AS key_columns
    FROM temp.touched ORDER BY table_name, row_key`.execute(transaction);
  const told: ToldRow[] = [];
  for (const { table_name: name, row_key: key, key_columns } of touched.rows) {
    const query = CompiledQuery.raw(
      selectRow({ name, keyColumns: JSON.parse(key_columns) }),
      JSON.parse(key),
    );
    const { rows } = await transaction.executeQuery<Row>(query);
    told.push([name, key, rows[0] ? hashRow(rows[0]) : null]);
  }
  return told;
}
