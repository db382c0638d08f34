import { create } from 'zustand';
import type { PickDecision } from '../types.ts';

/** Decisions on the picks of one visit with what was undone and can be redone. */
export type Trail = {
  past: readonly (readonly PickDecision[])[];
  present: readonly PickDecision[];
  future: readonly (readonly PickDecision[])[];
  /** The decisions that are stored with the visit. */
  stored: readonly PickDecision[];
  /** Changes with the same key as the last one replace it: one drag is one step back. */
  lastKey: string | null;
};

export type SortKey =
  | 'need'
  | 'pole'
  | 'date'
  | 'verdict'
  | 'f1'
  | 'f2'
  | 'f3'
  | 'modulus'
  | 'fixity'
  | 'capacity'
  | 'requirement'
  | 'chance'
  | 'ruling';

export type Range = readonly [number, number];

/** A pick that waits for the analyst to show where it is. */
export type Placing = { plane: number; number: number };

/** What the lower figure draws: a measured spectrum, or the poles of models of rising order. */
export type SpectrumKind = 'amplitude' | 'psd' | 'multitaper' | 'orders';

/** The pole changed in thought; null leaves a part as fitted. It is shown, and never stored. */
export type Thought = {
  /** Stem and root together: one point of the picture. */
  place: { modulusPa: number; fixity: number } | null;
  cableFactor: number | null;
  massKg: number | null;
  massHeightM: number | null;
  settingDepthM: number | null;
};

export type BenchView = {
  recording: number;
  /** Among the strikes of the recording; best: by its verdict; combined: all that can be used; null: all of the recording. */
  strike: number | 'best' | 'combined' | null;
  spectrumKind: SpectrumKind;
  logarithmic: boolean;
  spectrogramChannel: number;
  spectrogramScale: 'linear' | 'log';
  /** null: all of it. */
  timeRangeS: Range | null;
  frequencyRangeHz: Range;
  placing: Placing | null;
  /** Mode number that the next pick among the model orders gets; null: the one that is free there. */
  nextNumber: number | null;
  /** null: nothing is changed in thought. */
  thought: Thought | null;
};

/** Four bending modes of nearly every pole lie below this. */
const FIRST_FREQUENCY_RANGE_HZ: Range = [0, 60];

const firstView: BenchView = {
  recording: 0,
  strike: 'best',
  spectrumKind: 'amplitude',
  logarithmic: true,
  spectrogramChannel: 0,
  spectrogramScale: 'linear',
  timeRangeS: null,
  frequencyRangeHz: FIRST_FREQUENCY_RANGE_HZ,
  placing: null,
  nextNumber: null,
  thought: null,
};

/** The places of the window, in the order of its bar. */
export type Place = 'register' | 'bench' | 'calibration' | 'classroom';

type WindowChoices = {
  place: Place;
  /** The visit on the bench; null where none was opened. */
  visitId: number | null;
  /** The row of the register that takes the keyboard; null: the first. */
  rowVisitId: number | null;
  search: string;
  sort: { key: SortKey; descending: boolean };
  bench: BenchView;
  importing: boolean;
  /** Counts what was stored from this window, so that lists ask again. */
  stored: number;
  openVisit(visitId: number): void;
  /** Any place but the bench, which wants a visit. */
  openPlace(place: Exclude<Place, 'bench'>): void;
  walkTo(rowVisitId: number): void;
  setSearch(search: string): void;
  sortBy(key: SortKey): void;
  look(change: Partial<BenchView>): void;
  setImporting(importing: boolean): void;
  noteStored(): void;
};

export const useWindow = create<WindowChoices>()((set) => ({
  place: 'register',
  visitId: null,
  rowVisitId: null,
  search: '',
  sort: { key: 'need', descending: true },
  bench: firstView,
  importing: false,
  stored: 0,
  openVisit: (visitId) => set({ place: 'bench', visitId, rowVisitId: visitId, bench: firstView }),
  openPlace: (place) => set({ place, visitId: null }),
  walkTo: (rowVisitId) => set({ rowVisitId }),
  setSearch: (search) => set({ search }),
  sortBy: (key) =>
    set(({ sort }) => ({ sort: { key, descending: sort.key === key ? !sort.descending : key === 'need' } })),
  look: (change) => set(({ bench }) => ({ bench: { ...bench, ...change } })),
  setImporting: (importing) => set({ importing }),
  noteStored: () => set(({ stored }) => ({ stored: stored + 1 })),
}));

type DecisionChoices = {
  /** By visit, so that going back to the register loses nothing. */
  trails: Readonly<Record<number, Trail>>;
  /** Starts the trail of a visit at the decisions that are stored with it; one that exists keeps its changes. */
  begin(visitId: number, stored: readonly PickDecision[]): void;
  change(visitId: number, next: readonly PickDecision[], key?: string): void;
  undo(visitId: number): void;
  redo(visitId: number): void;
};

export const useDecisions = create<DecisionChoices>()((set) => {
  const update = (visitId: number, step: (trail: Trail) => Trail) =>
    set(({ trails }) => {
      const trail = trails[visitId];
      return trail ? { trails: { ...trails, [visitId]: step(trail) } } : {};
    });
  return {
    trails: {},
    begin: (visitId, stored) =>
      set(({ trails }) => {
        const kept = trails[visitId] ?? { past: [], present: stored, future: [], lastKey: null };
        return { trails: { ...trails, [visitId]: { ...kept, stored } } };
      }),
    change: (visitId, next, key) =>
      update(visitId, (trail) => ({
        ...trail,
        past: key !== undefined && key === trail.lastKey ? trail.past : [...trail.past, trail.present],
        present: next,
        future: [],
        lastKey: key ?? null,
      })),
    undo: (visitId) =>
      update(visitId, (trail) => {
        const previous = trail.past.at(-1);
        if (!previous) return trail;
        return {
          ...trail,
          past: trail.past.slice(0, -1),
          present: previous,
          future: [trail.present, ...trail.future],
          lastKey: null,
        };
      }),
    redo: (visitId) =>
      update(visitId, (trail) => {
        const [next, ...future] = trail.future;
        if (!next) return trail;
        return { ...trail, past: [...trail.past, trail.present], present: next, future, lastKey: null };
      }),
  };
});
