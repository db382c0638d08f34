import { create } from 'zustand';
import type { RegisterQuery, RegisterRow, SavedView } from '../types.ts';

/** A visit chosen for a ruling or a report, and the result and the ruling that were seen of it. */
export type SelectedVisit = Pick<
  RegisterRow,
  'visitId' | 'assessmentId' | 'poleId' | 'date' | 'isGroundLineInspected'
> & {
  standingRulingId: number | null;
};

/** What the register shows before anybody asked for something else: all visits, those that wait for a person first. */
export const FIRST_QUERY: RegisterQuery = {
  search: '',
  sort: { key: 'need', descending: true },
  ruled: 'any',
  reasons: [],
  verdicts: [],
  species: [],
  latestOnly: false,
};

type RegisterChoices = {
  query: RegisterQuery;
  /** The row that takes the keyboard, and where it stood last; null: the first. */
  current: { visitId: number; place: number } | null;
  selected: ReadonlyMap<number, SelectedVisit>;
  views: readonly SavedView[];
  ask(change: Partial<RegisterQuery>): void;
  sortBy(key: RegisterQuery['sort']['key']): void;
  walkTo(current: { visitId: number; place: number }): void;
  select(
    visits: readonly (Omit<SelectedVisit, 'standingRulingId'> & Pick<RegisterRow, 'ruling'>)[],
    isSelected: boolean,
  ): void;
  clearSelection(): void;
  setViews(views: readonly SavedView[]): void;
};

/** Orders that are of use from the greatest down at the first press. */
const DESCENDING_FIRST: readonly string[] = ['need', 'date', 'chance', 'thresholdChance', 'ruling'];

/** Which visits the register shows, in which order, and which of them are chosen. */
export const useRegister = create<RegisterChoices>()((set) => ({
  query: FIRST_QUERY,
  current: null,
  selected: new Map(),
  views: [],
  ask: (change) => set(({ query }) => ({ query: { ...query, ...change }, current: null })),
  sortBy: (key) =>
    set(({ query }) => {
      const { sort } = query;
      const descending = sort.key === key ? !sort.descending : DESCENDING_FIRST.includes(key);
      return { query: { ...query, sort: { key, descending } }, current: null };
    }),
  walkTo: (current) => set({ current }),
  select: (visits, isSelected) =>
    set(({ selected }) => {
      const next = new Map(selected);
      for (const visit of visits) {
        const { visitId, assessmentId, poleId, date, isGroundLineInspected, ruling } = visit;
        const standingRulingId = ruling?.rulingId ?? null;
        const chosen = { visitId, assessmentId, poleId, date, isGroundLineInspected, standingRulingId };
        if (isSelected) next.set(visitId, chosen);
        else next.delete(visitId);
      }
      return { selected: next };
    }),
  clearSelection: () => set({ selected: new Map() }),
  setViews: (views) => set({ views }),
}));
