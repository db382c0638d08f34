import { CompiledQuery, type Kysely, sql } from 'kysely';
import { isTeam } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';
import { noteEntry } from './collectEntries.ts';
import { composeEntry, NO_ENTRY, type ToldRow, type TrailEntry } from './composeEntry.ts';
import { hashRow, type Row } from './hashRow.ts';
import { hashTeamRows } from './hashTeamRows.ts';
import { selectTouchedRows, type TouchedKey } from './trailTables.ts';

/**
 * Adds one entry to the trail, with the hash of every row that the transaction wrote since its start or the entry before.
 * To be called within the transaction of the change, after its last write; a commit without it is refused.
 * @param transaction - of the change
 * @returns number of the entry
 */
export async function appendTrail(transaction: Kysely<Tables>, entry: TrailEntry): Promise<number> {
  const team = isTeam(transaction);
  const rows = await (team ? hashTeamRows(transaction) : hashTouchedRows(transaction));
  const previous = await transaction
    .selectFrom('trail')
    .select(['seq', 'sha256'])
    .orderBy('seq', 'desc')
    .limit(1)
    .executeTakeFirst();
  const row = composeEntry(entry, rows, previous ?? NO_ENTRY);
  await transaction.insertInto('trail').values(row).execute();
  // a team store does so by itself, for the rows that the entry names
  if (!team) await sql`DELETE FROM temp.touched`.execute(transaction);
  noteEntry(row.seq);
  return row.seq;
}

/** Rows that one query fetches: a change of a whole workspace writes as many as it has visits. */
const ROWS_A_QUERY = 100;

/** Rows noted by {@link watchTables}, by table and key, each as it stands now. */
async function hashTouchedRows(transaction: Kysely<Tables>): Promise<ToldRow[]> {
  const { rows: tables } = await sql<{ name: string; key_columns: string }>`
    SELECT name, (
      SELECT json_group_array(name)
      FROM (SELECT name FROM pragma_table_info(touched.name, 'main') WHERE pk > 0 ORDER BY pk)
    ) AS key_columns
    FROM (SELECT DISTINCT table_name AS name FROM temp.touched) AS touched ORDER BY name`.execute(
    transaction,
  );
  const told: ToldRow[] = [];
  for (const { name, key_columns } of tables) {
    const query = selectTouchedRows({ name, keyColumns: JSON.parse(key_columns) });
    for (let last = ''; ; ) {
      const { rows } = await transaction.executeQuery<Row & TouchedKey>(
        CompiledQuery.raw(query, [name, last, ROWS_A_QUERY]),
      );
      for (const { 'row key': key, 'is there': isThere, ...row } of rows) {
        told.push([name, key, isThere ? hashRow(row) : null]);
        last = key;
      }
      if (rows.length < ROWS_A_QUERY) break;
    }
  }
  return told;
}
