import { sql } from 'kysely';
import { hashSha256 } from '../../hashSha256.ts';
import { type Proof, proveTeamStore, proveWorkspace } from '../care/index.ts';
import type { Store } from '../store.ts';
import { hashRow } from '../trail/index.ts';
import { type Head, tellFaulty } from './checkSource.ts';
import { TOLD_TABLES, UNTOLD_TABLES } from './movedTables.ts';
import { MOVE_MARK } from './moveMark.ts';
import { readTablePages } from './readPages.ts';
import { tellChanged } from './tellChanged.ts';

/** What both sides of a move hold, found to be the same. */
export type Compared = {
  readonly rows: readonly { readonly table: string; readonly count: number }[];
  readonly head: Head;
  /** Unpacked and hashed on both sides. */
  readonly recordings: number;
  readonly visits: number;
};

/**
 * Proves both sides of a move and compares them: every row by its hash, every recording and visit file by SHA-256, the chain and
 * its last entry, counts by table.
 * @throws StoreError `move.faulty` where a side does not stand as its trail tells, `move.changed` where they differ
 */
export async function compareStores(source: Store, head: Head, target: Store): Promise<Compared> {
  const proofs = [await proveStore(source), await proveStore(target)] as const;
  for (const [i, store] of [source, target].entries()) {
    const { form, chain, rows, evidence } = proofs[i]!;
    const faults = [...form, ...chain.faults, ...rows, ...evidence];
    if (faults.length > 0) throw tellFaulty(store.path, faults);
    if (chain.head?.sha256 !== head.sha256) {
      throw tellChanged(store.path, `its trail now ends with entry ${chain.entries}, not ${head.seq}`);
    }
  }
  const [rows, rowsThere] = [await countRows(source), await countRows(target)];
  for (const [i, { table, count }] of rows.entries()) {
    if (count !== rowsThere[i]!.count) {
      throw tellChanged(
        source.path,
        `${table} has ${count} rows, of which ${rowsThere[i]!.count} were brought over`,
      );
    }
  }
  for (const { name } of UNTOLD_TABLES) {
    if ((await digest(source, name)) !== (await digest(target, name))) {
      throw tellChanged(source.path, `rows of ${name}`);
    }
  }
  const { recordings, visits } = proofs[1];
  return { rows, head, recordings, visits };
}

async function proveStore(store: Store): Promise<Proof> {
  return store.kind === 'team' ? proveTeamStore(store) : proveWorkspace(store.database);
}

async function countRows({ db }: Store): Promise<{ table: string; count: number }[]> {
  const counts = [];
  for (const table of [...TOLD_TABLES, ...UNTOLD_TABLES].map(({ name }) => name).concat('trail')) {
    const isMark = table === 'kept_choices' ? sql`WHERE name <> ${MOVE_MARK}` : sql``;
    const { rows } = await sql<{ count: number }>`
      SELECT count(*) AS count FROM ${sql.table(table)} ${isMark}`.execute(db);
    counts.push({ table, count: rows[0]!.count });
  }
  return counts;
}

/** One hash over all rows of a table that the trail does not cover. */
async function digest({ db }: Store, name: string): Promise<string> {
  const table = UNTOLD_TABLES.find((one) => one.name === name)!;
  const hashes: string[] = [];
  for await (const { row } of readTablePages(db, table)) {
    if (row.name !== MOVE_MARK) hashes.push(hashRow(row));
  }
  return hashSha256(Buffer.from(hashes.join()));
}
