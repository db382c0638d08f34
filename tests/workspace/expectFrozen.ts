import { expect } from 'vitest';
import type { Store } from '../../core/workspace/index.ts';
import { runPast } from './runPast.ts';

/** Insists that the database refuses to change, delete or replace what a table holds, whoever asks; there has to be a row. */
export async function expectFrozen(store: Store, table: string, column: string): Promise<void> {
  const before = await runPast(store, `SELECT * FROM ${table}`);
  expect(before, table).not.toEqual([]);
  const refused = async (change: string, told: RegExp) =>
    expect(runPast(store, change), table).rejects.toThrow(told);
  await refused(`UPDATE ${table} SET ${column} = ${column}`, /never changed/);
  await refused(`DELETE FROM ${table}`, /never deleted/);
  // a word of SQLite's alone
  if (store.kind === 'file') {
    await refused(`INSERT OR REPLACE INTO ${table} SELECT * FROM ${table}`, /never replaced/);
  }
  expect(await runPast(store, `SELECT * FROM ${table}`), table).toEqual(before);
}
