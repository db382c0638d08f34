import type { ModeCandidate } from './modal/index.ts';

/** A proposed mode, or one that an analyst set and that has no rank. */
export type RankedCandidate = ModeCandidate & { readonly rank: number | null };

/** A pick on its way to the fit. */
export type ProposedPick = {
  readonly candidate: RankedCandidate;
  /** An analyst's; null where the fit is to find the number. */
  readonly fixedNumber: number | null;
  /** Where an analyst set it; the candidate's frequency is what the strikes show nearest to there. */
  readonly setHz: number | null;
};

/** A pick that has arrived at the fit, with its place among the proposed. */
export type NumberedPick = ProposedPick & { readonly index: number; readonly number: number };

/** Accepted peaks with the numbers that they carry while nobody decided on any; null where the number is not sure. */
export type Proposal = readonly { readonly candidate: ModeCandidate; readonly number: number | null }[];
