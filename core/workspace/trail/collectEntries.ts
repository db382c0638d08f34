import { AsyncLocalStorage } from 'node:async_hooks';

const collecting = new AsyncLocalStorage<number[]>();

/** Does a piece of work and tells which entries of the trail it added, so that who asked for it knows them for his own. */
export async function collectEntries<T>(
  work: () => T | Promise<T>,
): Promise<{ value: T; entries: number[] }> {
  const entries: number[] = [];
  const value = await collecting.run(entries, async () => work());
  return { value, entries };
}

/** Notes an entry that was just added, for whoever collects. */
export function noteEntry(seq: number): void {
  collecting.getStore()?.push(seq);
}
