import { create } from 'zustand';

/** The places of the window, in the order of its bar. */
export type Place = 'register' | 'bench' | 'calibration' | 'classroom' | 'intake';

type WindowChoices = {
  place: Place;
  /** The visit on the bench; null where none was opened. */
  visitId: number | null;
  /** The visit that was on the bench last, for the way back; null where none was yet. */
  lastVisitId: number | null;
  importing: boolean;
  /** Counts what was stored from this window, so that lists ask again. */
  stored: number;
  openVisit(visitId: number): void;
  /** What an earlier window had on the bench; one that was opened since stands before it. */
  recallVisit(visitId: number): void;
  /** Any place but the bench, which wants a visit. */
  openPlace(place: Exclude<Place, 'bench'>): void;
  setImporting(importing: boolean): void;
  noteStored(): void;
};

/** Which place is open, and on what. */
export const useWindow = create<WindowChoices>()((set) => ({
  place: 'register',
  visitId: null,
  lastVisitId: null,
  importing: false,
  stored: 0,
  openVisit: (visitId) => set({ place: 'bench', visitId, lastVisitId: visitId }),
  recallVisit: (visitId) => set(({ lastVisitId }) => ({ lastVisitId: lastVisitId ?? visitId })),
  openPlace: (place) => set({ place, visitId: null }),
  setImporting: (importing) => set({ importing }),
  noteStored: () => set(({ stored }) => ({ stored: stored + 1 })),
}));
