import { create } from 'zustand';
import type { CallResponse } from '../types.ts';

type Change = CallResponse<'care.changes'>['entries'][number] & {
  /** How long ago it was when it was last told, in s. */
  ageS: number;
};

/** How long a change of somebody else is told of, in s. */
const TOLD_FOR_S = 60;
const MS_A_SECOND = 1000;

type Changes = {
  /** The last entry of the trail that this window knows; null: none was asked for yet. */
  last: number | null;
  /** Entries that this window's own calls added. */
  own: ReadonlySet<number>;
  /** Changes of the last minute, own ones too, the latest first. */
  recent: readonly Change[];
  noteOwn(entries: readonly number[]): void;
  take(answer: CallResponse<'care.changes'>): void;
  dismiss(): void;
};

/** What was changed in the workspace lately, by whatever window or program. */
export const useChanges = create<Changes>()((set) => ({
  last: null,
  own: new Set(),
  recent: [],
  noteOwn: (entries) => set(({ own }) => ({ own: new Set([...own, ...entries]) })),
  take: ({ last, entries, now }) =>
    set(({ recent }) => {
      const aged = [...entries, ...recent]
        .map((entry) => ({
          ...entry,
          ageS: Math.max(0, Date.parse(now) - Date.parse(entry.at)) / MS_A_SECOND,
        }))
        .filter(({ ageS }) => ageS < TOLD_FOR_S);
      // an empty list stays the same one, so that nothing is drawn anew
      return { last, recent: aged.length === 0 && recent.length === 0 ? recent : aged };
    }),
  dismiss: () => set({ recent: [] }),
}));
