import type Database from 'better-sqlite3';
import { StoreError } from '../../errors.ts';
import { keyExpression, listTrackedTables, quoteName } from './trailTables.ts';

/**
 * Has this connection note every row that it writes, in the temporary table `touched`, and refuse to write outside of a
 * transaction. Together with {@link appendTrail}, which empties the table, and the check at each commit that it is empty,
 * nothing can be stored past the trail by oversight. Temporary triggers: the file itself is left as it is.
 */
export function watchTables(database: Database.Database): void {
  database.function('require_transaction', () => {
    if (!database.inTransaction) throw untold('A change outside of a transaction');
    return null;
  });
  database.exec(
    'CREATE TEMP TABLE touched (table_name TEXT NOT NULL, row_key TEXT NOT NULL, PRIMARY KEY (table_name, row_key)) STRICT, WITHOUT ROWID',
  );
  for (const table of listTrackedTables(database)) {
    const note = (row: string) =>
      `INSERT INTO touched VALUES ('${table.name.replaceAll("'", "''")}', ${keyExpression(table, row)}) ON CONFLICT DO NOTHING;`;
    const watch = (event: string, notes: string) =>
      `CREATE TEMP TRIGGER ${quoteName(`${table.name}_${event}`)} AFTER ${event} ON main.${quoteName(table.name)}
       BEGIN SELECT require_transaction(); ${notes} END;`;
    database.exec(
      watch('INSERT', note('NEW')) +
        watch('UPDATE', note('OLD') + note('NEW')) +
        watch('DELETE', note('OLD')),
    );
  }
}

/** @throws StoreError `store.untold` where the transaction wrote rows that no entry of the trail names */
export function checkAllTold(database: Pick<Database.Database, 'prepare'>): void {
  const row = database.prepare('SELECT table_name FROM temp.touched LIMIT 1').get() as
    | { table_name: string }
    | undefined;
  if (row) throw untold(`A change to ${row.table_name}`);
}

function untold(what: string): StoreError {
  return new StoreError(
    'store.untold',
    `${what} has no entry in the trail, so it was not stored.`,
    'This is an error of the program: report it with what was done just before.',
  );
}
