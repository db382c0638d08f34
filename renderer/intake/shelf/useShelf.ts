import { create } from 'zustand';
import { callHost } from '../../client.ts';
import type { Preferences, Shelf } from '../intakeTypes.ts';

const FIRST_PREFERENCES: Preferences = { units: 'metric', hints: false, hintsDone: [] };

type ShelfChoices = {
  /** null: not asked yet, or nobody keeps one. */
  shelf: Shelf | null;
  asked: boolean;
  set(change: Partial<Omit<ShelfChoices, 'set'>>): void;
};

/** What the program around the workspace keeps: workspaces opened lately, and preferences. */
export const useShelf = create<ShelfChoices>()((set) => ({
  shelf: null,
  asked: false,
  set: (change) => set(change),
}));

/** Asks for the shelf anew. */
export async function readShelf(): Promise<Shelf | null> {
  const answer = await callHost('shelf.list', {});
  const shelf = answer.ok ? answer.value : null;
  useShelf.getState().set({ shelf, asked: true });
  return shelf;
}

/** Preferences; where nobody keeps them, those of a first day without hints. */
export async function readPreferences(): Promise<Preferences> {
  const { shelf, asked } = useShelf.getState();
  return (asked ? shelf : await readShelf())?.preferences ?? FIRST_PREFERENCES;
}

/** Changes preferences, here at once and in the program's settings. */
export async function prefer(change: Partial<Preferences>): Promise<void> {
  const { shelf, set } = useShelf.getState();
  if (!shelf) return;
  set({ shelf: { ...shelf, preferences: { ...shelf.preferences, ...change } } });
  await callHost('shelf.prefer', change);
}
