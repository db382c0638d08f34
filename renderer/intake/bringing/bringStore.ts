import { create } from 'zustand';
import type { ImportOutcome } from '../../types.ts';

/** How far bringing in is: visits or recordings done, of how many, and which is next. */
export type BringProgress = { done: number; of: number; now: string; startedMs: number };

type BringChoices = {
  progress: BringProgress | null;
  outcomes: readonly ImportOutcome[];
  /** Recordings that no visit file named, to write a visit down for. */
  strays: readonly File[];
  stopped: boolean;
  set(change: Partial<Omit<BringChoices, 'set'>>): void;
};

/** What is being brought in, wherever it was dropped or chosen. */
export const useBringing = create<BringChoices>()((set) => ({
  progress: null,
  outcomes: [],
  strays: [],
  stopped: false,
  set: (change) => set(change),
}));
