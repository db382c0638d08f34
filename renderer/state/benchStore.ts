import { create } from 'zustand';
import type { Decision } from '../types.ts';
import {
  type BenchChoices,
  beginTrail,
  changeTrail,
  type Range,
  redoTrail,
  type Settings,
  type Trail,
  undoTrail,
} from './trail.ts';
import { useWindow } from './windowStore.ts';

/** A pick that waits for the analyst to show where it is. */
export type Placing = { plane: number; number: number };

/** Where the eye is: no undo ever moves it. */
export type BenchView = {
  /** null: all of it. */
  timeRangeS: Range | null;
  frequencyRangeHz: Range;
  placing: Placing | null;
  /** Mode number that the next pick among the model orders gets; null: the one that is free there. */
  nextNumber: number | null;
};

/** Four bending modes of nearly every pole lie below this. */
const FIRST_FREQUENCY_RANGE_HZ: Range = [0, 60];

const FIRST_VIEW: BenchView = {
  timeRangeS: null,
  frequencyRangeHz: FIRST_FREQUENCY_RANGE_HZ,
  placing: null,
  nextNumber: null,
};

const FIRST_CHOICES = beginTrail([]).present;

type Benches = {
  /** By visit, so that going back to the register loses nothing. */
  trails: Readonly<Record<number, Trail>>;
  views: Readonly<Record<number, BenchView>>;
  /** Starts a visit at what was kept of it, else at what is stored; one that is begun keeps its changes. */
  begin(visitId: number, stored: readonly Decision[], kept: { trail: Trail; view: BenchView } | null): void;
  change(visitId: number, part: Partial<BenchChoices>, words: string, key?: string): void;
  look(visitId: number, part: Partial<BenchView>): void;
  undo(visitId: number): void;
  redo(visitId: number): void;
};

/** What was chosen on the bench of each visit. */
export const useBenches = create<Benches>()((set) => {
  const update = (visitId: number, step: (trail: Trail) => Trail) =>
    set(({ trails }) => {
      const trail = trails[visitId];
      return trail ? { trails: { ...trails, [visitId]: step(trail) } } : {};
    });
  return {
    trails: {},
    views: {},
    begin: (visitId, stored, kept) =>
      set(({ trails, views }) => {
        const trail = trails[visitId] ?? kept?.trail ?? beginTrail(stored);
        const view = views[visitId] ?? kept?.view ?? FIRST_VIEW;
        return {
          trails: { ...trails, [visitId]: { ...trail, stored } },
          views: { ...views, [visitId]: view },
        };
      }),
    change: (visitId, part, words, key) => update(visitId, (trail) => changeTrail(trail, part, words, key)),
    look: (visitId, part) =>
      set(({ views }) => ({
        views: { ...views, [visitId]: { ...(views[visitId] ?? FIRST_VIEW), ...part } },
      })),
    undo: (visitId) => update(visitId, undoTrail),
    redo: (visitId) => update(visitId, redoTrail),
  };
});

export type OpenBench = {
  visitId: number;
  choices: BenchChoices;
  settings: Settings;
  view: BenchView;
  change(part: Partial<BenchChoices>, words: string, key?: string): void;
  /** A change of settings; one step back like any other. */
  set(part: Partial<Settings>, words: string): void;
  look(part: Partial<BenchView>): void;
};

/** The bench of the visit that is open, which must be begun. */
export function useBench(): OpenBench {
  const visitId = useWindow((s) => s.visitId) ?? 0;
  const choices = useBenches((s) => s.trails[visitId]?.present) ?? FIRST_CHOICES;
  const { change } = useBenches.getState();
  return {
    visitId,
    choices,
    ...useSettings(),
    ...useView(),
    change: (part, words, key) => change(visitId, part, words, key),
  };
}

/** Its settings alone: what reads no decision is not drawn again for each step of a dragged pick. */
export function useSettings(): Pick<OpenBench, 'settings' | 'set'> {
  const visitId = useWindow((s) => s.visitId) ?? 0;
  const settings = useBenches((s) => s.trails[visitId]?.present.settings) ?? FIRST_CHOICES.settings;
  return {
    settings,
    set: (part, words) => {
      const { trails, change } = useBenches.getState();
      const { settings } = trails[visitId]?.present ?? FIRST_CHOICES;
      change(visitId, { settings: { ...settings, ...part } }, words);
    },
  };
}

/** Where the eye is on it, alone. */
export function useView(): Pick<OpenBench, 'view' | 'look'> {
  const visitId = useWindow((s) => s.visitId) ?? 0;
  const view = useBenches((s) => s.views[visitId]) ?? FIRST_VIEW;
  return { view, look: (part) => useBenches.getState().look(visitId, part) };
}
