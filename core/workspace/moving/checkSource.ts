import { StoreError } from '../../errors.ts';
import type { Store } from '../store.ts';
import { checkChain, noteToldRows, type ToldRows } from '../trail/index.ts';
import { readTrailPages } from './readPages.ts';

/** The last entry that is moved; its hash stands for all before it. */
export type Head = { readonly seq: number; readonly sha256: string };

export type SourceTrail = {
  readonly head: Head;
  /** What the trail tells last of every row. */
  readonly told: ToldRows;
};

/** Why a source is not taken, though it can be read: somebody may write it, or this program does not know all that is in it. */
const HINDRANCES: readonly string[] = ['store.inUse', 'store.newer', 'store.moving'];

/**
 * Reads the trail of what is to be moved, before anything is written elsewhere.
 * @throws StoreError `store.inUse`, `store.newer`, `store.moving`; `move.faulty` where the chain does not hold or is empty
 */
export async function checkSource({ db, path, readOnly }: Store): Promise<SourceTrail> {
  if (readOnly && HINDRANCES.includes(readOnly.code)) {
    throw new StoreError(readOnly.code, readOnly.message, readOnly.hint);
  }
  const chain = checkChain();
  const told = noteToldRows();
  for await (const entry of readTrailPages(db)) {
    chain.take(entry);
    told.take(entry);
  }
  const { head, faults } = chain.tell();
  if (head === null) {
    throw new StoreError(
      'move.faulty',
      `There is nothing in ${path} to move.`,
      'Check the order: first from, then to.',
    );
  }
  if (faults.length > 0) throw tellFaulty(path, faults);
  return { head, told };
}

/** A store that does not stand as its trail tells. @param faults - in words, at least one */
export function tellFaulty(path: string, faults: readonly string[]): StoreError {
  const further = faults.length > 1 ? ` and ${faults.length - 1} further faults` : '';
  return new StoreError(
    'move.faulty',
    `${path} does not stand as its trail tells: ${faults[0]}${further}`,
    'Look into it with: npm run -s stemroot -- care prove <workspace>, and move a backup that holds.',
  );
}
