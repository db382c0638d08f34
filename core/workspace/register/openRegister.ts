import type { RegisterRow } from '../contract.ts';
import type { Store } from '../store.ts';
import { createFinder, type Finder } from './findVisits.ts';
import type { RegisterQuery } from './orders.ts';
import { readRows } from './readRows.ts';
import { createRegisterKeeper } from './registerKeeper.ts';

export type Register = Finder & {
  /** Brings the register up to date for as long as nobody minds. @returns poles that are not in it yet */
  settleSoon(): Promise<number>;
  /** Every row that a query finds, in its order, once the register is up to date. @throws StoreError `register.unfinished` */
  listAll(query: RegisterQuery): Promise<RegisterRow[]>;
  /** Rows of visits. @throws InputError `visit.unknown`, StoreError `register.unfinished` */
  list(visitIds: readonly number[]): Promise<RegisterRow[]>;
  /** The same for a page of what was found, as the register stands. */
  read(visitIds: readonly number[]): Promise<RegisterRow[]>;
};

/** Rows that are read at once where all are asked for. */
const ROWS_A_PART = 5000;
/** Where the register changes without rest, what was read last has to do. */
const MOST_TIMES = 5;

/** The stored register of a workspace, over one connection. Holds in memory what was asked last, not the rows. */
export function openRegister(store: Store): Register {
  const finder = createFinder(store.db);
  const keeper = createRegisterKeeper(store);
  return {
    ...finder,
    settleSoon: keeper.settleSoon,
    async listAll(query) {
      await keeper.settle();
      const ids = await findAll(finder, query);
      const rows: RegisterRow[] = [];
      for (let from = 0; from < ids.length; from += ROWS_A_PART)
        rows.push(...(await readRows(store.db, ids.slice(from, from + ROWS_A_PART))));
      return rows;
    },
    async list(visitIds) {
      await keeper.settle();
      return readRows(store.db, visitIds);
    },
    read: (visitIds) => readRows(store.db, visitIds),
  };
}

/** Identities of all that a query finds; asked anew where somebody changed the register between counting and reading. */
async function findAll(finder: Finder, query: RegisterQuery): Promise<number[]> {
  for (let time = 1; ; time++) {
    const found = await finder.find(query, { whole: true });
    const ids = await found.read(0, found.matching);
    if (ids.length === found.matching || time === MOST_TIMES) return ids;
  }
}
