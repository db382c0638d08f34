import { openWorkspace } from '../openWorkspace.ts';
import { settleRegister } from '../register/settleRegister.ts';
import type { Store } from '../store.ts';
import { bringInEntries } from './bringInEntries.ts';
import { bringInUntold } from './bringInUntold.ts';
import { checkSource, type SourceTrail } from './checkSource.ts';
import { checkTarget } from './checkTarget.ts';
import { type Compared, compareStores } from './compareStores.ts';
import { completeMove } from './completeMove.ts';
import { requireKeeper } from './requireKeeper.ts';

/** What is told of a move while it goes on, and how it is broken off. */
export type MoveWatch = {
  /** Broken off between two changes; what was brought over stays, and the same move goes on from there. */
  readonly signal?: AbortSignal;
  /** Entries that are to be brought over. */
  onStart?(entries: number): void;
  /** Of these, those brought over. */
  onProgress?(entries: number): void;
  /** All entries are there; both sides are read once more and compared. */
  onCompare?(): void;
};

export type Moved =
  | { readonly completed: true; readonly from: string; readonly to: string; readonly compared: Compared }
  /** Broken off: entries that are not there yet. */
  | { readonly completed: false; readonly left: number };

/**
 * Moves a workspace: every row, with its identity, and the trail entry by entry as it was written. The source stays as it is. The
 * target is made where it is missing; it can be read and not changed until the move is complete, and tells then where it came from.
 * @param from, to - a workspace file or the connection string of a team store, of which the one who moves is the keeper
 * @throws StoreError `move.notEmpty`, `move.done`, `move.other`, `move.changed`, `move.faulty`, `move.notKeeper`, `store.*`
 */
export async function moveStore(from: string, to: string, watch: MoveWatch = {}): Promise<Moved> {
  const source = await openWorkspace(from);
  try {
    await requireKeeper(source);
    const trail = await checkSource(source);
    const target = await openWorkspace(to, { create: true, moving: true });
    try {
      await requireKeeper(target);
      return await move(source, trail, target, watch);
    } finally {
      await target.close();
    }
  } finally {
    await source.close();
  }
}

async function move(source: Store, trail: SourceTrail, target: Store, watch: MoveWatch): Promise<Moved> {
  const there = await checkTarget(source, trail.head, target);
  watch.onStart?.(trail.head.seq - there);
  const reached = await bringInEntries(source, trail, target, {
    after: there,
    signal: watch.signal,
    onReached: (seq) => watch.onProgress?.(seq - there),
  });
  if (watch.signal?.aborted) return { completed: false, left: trail.head.seq - reached };
  watch.onCompare?.();
  await bringInUntold(source, target);
  const compared = await compareStores(source, trail.head, target);
  await completeMove(source, trail.head, target);
  // not moved but computed from what was; where this is broken off, whoever opens the target goes on
  await settleRegister(target.db, { isAlone: true });
  return { completed: true, from: source.path, to: target.path, compared };
}
