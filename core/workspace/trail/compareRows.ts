import type Database from 'better-sqlite3';
import type { TrailRow } from './composeEntry.ts';
import type { Row } from './hashRow.ts';
import { noteToldRows, type RowDifference } from './toldRows.ts';
import { keyExpression, listTrackedTables, quoteName } from './trailTables.ts';

/** Compares every row of a file that the trail covers with what it told of it last. One row is in memory at a time. */
export function* compareRows(database: Database.Database): Generator<RowDifference> {
  const told = noteToldRows();
  const entries = database.prepare('SELECT seq, rows_json FROM main.trail ORDER BY seq').iterate();
  for (const entry of entries as Iterable<TrailRow>) told.take(entry);
  for (const table of listTrackedTables(database)) {
    const name = quoteName(table.name);
    const rows = database
      .prepare(`SELECT ${keyExpression(table, name)} AS "row key", * FROM main.${name}`)
      .iterate() as Iterable<Row & { 'row key': string }>;
    for (const { 'row key': key, ...row } of rows) {
      const difference = told.compare(table.name, key, row);
      if (difference !== null) yield difference;
    }
  }
  yield* told.listMissing();
}
