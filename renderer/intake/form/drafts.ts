import type { Answers, Habits, Rows, UnitSystem } from '../intakeTypes.ts';

/** A visit that is being written down. */
export type Draft = {
  id: string;
  begunAt: string;
  units: UnitSystem;
  answers: Answers;
  rows: Rows;
};

/** What is kept under one name: every draft, which is open, and what crews do alike. */
export type KeptDrafts = {
  changedAt: string;
  drafts: readonly Draft[];
  openId: string | null;
  habits: Habits;
};
