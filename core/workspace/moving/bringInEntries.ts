import { type Kysely, sql } from 'kysely';
import { isTeam } from '../sqlWords.ts';
import type { Store } from '../store.ts';
import type { Tables } from '../tables.ts';
import { hashRow, type Row, readToldRows, type ToldRows, type TrailRow } from '../trail/index.ts';
import type { SourceTrail } from './checkSource.ts';
import { type MovedTable, TOLD_TABLES } from './movedTables.ts';
import { deleteRow, insertRows, readRowsByKey } from './moveRows.ts';
import { readTrailPages } from './readPages.ts';
import { tellChanged } from './tellChanged.ts';

/** Rows that one transaction brings in, but for an entry that names more: a move that is killed loses as many. */
const ROWS_A_CHANGE = 200;
const ENTRIES_A_CHANGE = 100;
/** Rows that one query takes: a recording may have several megabytes. */
const ROWS_A_QUERY = 20;

type Db = Kysely<Tables>;

/**
 * Brings in entries of the trail, each in one transaction with the rows that it names, as they stand in the source. So the target's
 * own rule holds throughout, that no row is committed which no entry names and that an entry follows the last one: moving needs
 * no way past it.
 * @returns number of the last entry that is there
 * @throws StoreError `move.changed` where a row is not as the trail told of it last
 */
export async function bringInEntries(
  source: Store,
  { head, told }: SourceTrail,
  target: Store,
  {
    after,
    signal,
    onReached,
  }: { after: number; signal: AbortSignal | undefined; onReached(seq: number): void },
): Promise<number> {
  let reached = after;
  for await (const entries of readChanges(source.db, after, head.seq)) {
    if (signal?.aborted) break;
    await target.db.transaction().execute((transaction) => bringIn(source, told, transaction, entries));
    reached = entries.at(-1)!.seq;
    onReached(reached);
  }
  return reached;
}

/** Entries in their order, as many as one transaction takes. */
async function* readChanges(db: Db, after: number, upTo: number): AsyncGenerator<TrailRow[]> {
  let entries: TrailRow[] = [];
  let rows = 0;
  for await (const entry of readTrailPages(db, { after, upTo })) {
    entries.push(entry);
    rows += readToldRows(entry.rows_json).length;
    if (rows >= ROWS_A_CHANGE || entries.length >= ENTRIES_A_CHANGE) {
      yield entries;
      entries = [];
      rows = 0;
    }
  }
  if (entries.length > 0) yield entries;
}

async function bringIn(source: Store, told: ToldRows, transaction: Db, entries: readonly TrailRow[]) {
  const keys = new Map<string, Set<string>>();
  for (const { rows_json } of entries) {
    for (const [table, key] of readToldRows(rows_json)) {
      keys.set(table, (keys.get(table) ?? new Set()).add(key));
    }
  }
  for (const table of TOLD_TABLES) {
    await bringInRows(source, told, transaction, table, [...(keys.get(table.name) ?? [])]);
    keys.delete(table.name);
  }
  for (const name of keys.keys())
    throw tellChanged(source.path, `the table ${name}, which this program does not know`);
  for (const entry of entries) await transaction.insertInto('trail').values(entry).execute();
  // a team store does so by itself, for the rows that the entries name
  if (!isTeam(transaction)) await sql`DELETE FROM temp.touched`.execute(transaction);
}

/** Has rows stand in the target as in the source; what an entry names again later is there already. */
async function bringInRows(
  source: Store,
  told: ToldRows,
  transaction: Db,
  table: MovedTable,
  keys: readonly string[],
): Promise<void> {
  for (let start = 0; start < keys.length; start += ROWS_A_QUERY) {
    const chunk = keys.slice(start, start + ROWS_A_QUERY);
    const rows = await readRowsByKey(source.db, table, chunk);
    const there = await readRowsByKey(transaction, table, chunk);
    const missing: Row[] = [];
    for (const key of chunk) {
      const row = rows.get(key);
      if ((row && hashRow(row)) !== told.hashOf(table.name, key)) {
        throw tellChanged(source.path, `row ${key} of ${table.name}`);
      }
      const before = there.get(key);
      if (before && row && hashRow(before) === hashRow(row)) continue;
      if (before) await deleteRow(transaction, table, before);
      if (row) missing.push(row);
    }
    await insertRows(transaction, table, missing);
  }
}
