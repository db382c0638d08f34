import type { Store } from '../store.ts';
import type { Row } from '../trail/index.ts';
import { readIdentities, writeIdentities } from './identities.ts';
import { type MovedTable, UNTOLD_TABLES } from './movedTables.ts';
import { MOVE_MARK } from './moveMark.ts';
import { insertRows } from './moveRows.ts';
import { readTablePages } from './readPages.ts';

const ROWS_AT_ONCE = 20;

/** Brings in what the trail does not cover, in the place of what an earlier try brought, and up to where identities were given. */
export async function bringInUntold(source: Store, target: Store): Promise<void> {
  const identities = await readIdentities(source);
  await target.db.transaction().execute(async (transaction) => {
    await transaction.deleteFrom('draft_recordings').execute();
    await transaction.deleteFrom('kept_choices').where('name', '<>', MOVE_MARK).execute();
    for (const table of UNTOLD_TABLES) {
      for await (const rows of inChunks(source, table)) await insertRows(transaction, table, rows);
    }
    await writeIdentities(transaction, identities);
  });
}

async function* inChunks({ db }: Store, table: MovedTable): AsyncGenerator<Row[]> {
  let rows: Row[] = [];
  for await (const { row } of readTablePages(db, table)) {
    rows.push(row);
    if (rows.length === ROWS_AT_ONCE) {
      yield rows;
      rows = [];
    }
  }
  yield rows;
}
