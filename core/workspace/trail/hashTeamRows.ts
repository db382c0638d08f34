import { CompiledQuery, type Kysely, sql } from 'kysely';
import type { Tables } from '../tables.ts';
import type { ToldRow } from './composeEntry.ts';
import { hashRow, type Row } from './hashRow.ts';
import { quoteName, type TouchedKey } from './trailTables.ts';

/** Rows that one query fetches: a change of a whole workspace writes as many as it has visits. */
const ROWS_A_QUERY = 100;

/** Rows that the database of a team noted in this transaction, by table and key, each as it stands now. */
export async function hashTeamRows(transaction: Kysely<Tables>): Promise<ToldRow[]> {
  const { rows: tables } = await sql<{ table_name: string }>`
    SELECT DISTINCT table_name FROM touched WHERE xact = pg_current_xact_id() ORDER BY table_name`.execute(
    transaction,
  );
  const told: ToldRow[] = [];
  for (const { table_name: table } of tables) {
    const { rows: columns } = await readKeyColumns(transaction, table);
    const query = selectNotedRows(table, columns);
    for (let last = ''; ; ) {
      const { rows } = await transaction.executeQuery<Row & TouchedKey>(
        CompiledQuery.raw(query, [table, last, ROWS_A_QUERY]),
      );
      for (const { 'row key': key, 'is there': isThere, ...row } of rows) {
        told.push([table, key, isThere ? hashRow(row) : null]);
        last = key;
      }
      if (rows.length < ROWS_A_QUERY) break;
    }
  }
  return told;
}

type KeyColumn = { name: string; type: string };

/** Columns of a table's primary key, in its order. */
function readKeyColumns(db: Kysely<Tables>, table: string) {
  return sql<KeyColumn>`
    SELECT attname AS name, format_type(atttypid, NULL) AS type
    FROM pg_index CROSS JOIN LATERAL unnest(indkey) WITH ORDINALITY AS keys (number, place)
    JOIN pg_attribute ON attrelid = indrelid AND attnum = number
    WHERE indrelid = format('stemroot.%I', ${table}::text)::regclass AND indisprimary ORDER BY place`.execute(
    db,
  );
}

function selectNotedRows(table: string, columns: readonly KeyColumn[]): string {
  const isKey = columns.map(
    ({ name, type }, i) => `own.${quoteName(name)} = CAST(touched.row_key::json ->> ${i} AS ${type})`,
  );
  return `SELECT touched.row_key AS "row key", own.${quoteName(columns[0]!.name)} IS NOT NULL AS "is there", own.*
    FROM touched LEFT JOIN ${quoteName(table)} AS own ON ${isKey.join(' AND ')}
    WHERE touched.xact = pg_current_xact_id() AND touched.table_name = $1 AND touched.row_key > $2
    ORDER BY touched.row_key LIMIT $3`;
}
