import { StoreError } from '../../errors.ts';
import type { Store } from '../store.ts';
import { settleCopy } from './settleCopy.ts';
import { countStale, isSettled, settleRegister } from './settleRegister.ts';

export type RegisterKeeper = {
  /** Brings the register up to date in the background. @returns poles that are left after a short while; 0 where all is done */
  settleSoon(): Promise<number>;
  /** Waits until the register is up to date. @throws StoreError `register.unfinished` where this connection may not write it */
  settle(): Promise<void>;
};

/** What a query waits for, so that a window need not say that it waits. */
const SOON_MS = 250;

/** One for each connection: at most one of its calls brings the register up to date at a time. */
export function createRegisterKeeper(store: Store): RegisterKeeper {
  const { db, path } = store;
  const copied = store.kind === 'file' && store.forThreads.path !== path ? store : null;
  const mayWrite = store.readOnly === null || copied !== null;
  let work: Promise<void> | null = null;
  // once a connection even where nothing is stale: one that was broken off may have left the rows without their indexes
  let wasSettled = false;

  const start = () => {
    wasSettled = true;
    work ??= (copied ? settleCopy(copied) : settleRegister(db)).finally(() => {
      work = null;
    });
    return work;
  };
  return {
    async settleSoon() {
      if ((await isSettled(db)) && (wasSettled || !mayWrite)) return 0;
      if (!mayWrite) return countStale(db);
      let timer: NodeJS.Timeout | undefined;
      const soon = new Promise<void>((resolve) => {
        timer = setTimeout(resolve, SOON_MS);
      });
      await Promise.race([start(), soon]).finally(() => clearTimeout(timer));
      // what fails later is met again by the next query
      work?.catch(() => {});
      return countStale(db);
    },
    async settle() {
      if (await isSettled(db)) return;
      if (mayWrite) return start();
      const lacking = await countStale(db);
      if (lacking === 0) return;
      throw new StoreError(
        'register.unfinished',
        `The register of ${path} lacks ${lacking} poles, and it can only be read here.`,
        'Have it opened once where it can be changed, and wait until its register is whole.',
      );
    },
  };
}
