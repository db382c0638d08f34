import { create } from 'zustand';
import type { ReportSubject } from '../types.ts';

/** One thing that a report can be about, and how it is called in the list of them. */
export type ReportChoice = { words: string; subject: ReportSubject };

type Reports = {
  /** What can be reported on, the likeliest first; null: the dialog is closed. */
  choices: readonly ReportChoice[] | null;
  ask(choices: readonly ReportChoice[]): void;
  close(): void;
};

/** The dialog of reports, opened from any place. */
export const useReports = create<Reports>()((set) => ({
  choices: null,
  ask: (choices) => set({ choices }),
  close: () => set({ choices: null }),
}));
