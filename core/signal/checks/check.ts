/** How far a strike can be used. `repeat`: it cannot be used for modes. */
export type Verdict = 'use' | 'use with care' | 'repeat';

export type CheckId =
  | 'clipping'
  | 'double-blow'
  | 'noise'
  | 'cut-short'
  | 'low-band'
  | 'weak-plane'
  | 'mains-hum'
  | 'rattle'
  | 'offset'
  | 'corner'
  | 'repeatability';

/** The outcome of one check. */
export interface Check {
  readonly id: CheckId;
  readonly verdict: Verdict;
  /** Null where the recording does not allow the check; `text` then says why. */
  readonly value: number | null;
  readonly limit: number;
  readonly unit: string;
  /** What is wrong, in one plain sentence; empty where nothing is. */
  readonly text: string;
  /** What to do next time; empty where nothing is wrong. */
  readonly advice: string;
}

const ORDER: readonly Verdict[] = ['use', 'use with care', 'repeat'];

/** Picks the worst of verdicts; `use` for none. */
export function pickWorst(verdicts: readonly Verdict[]): Verdict {
  return ORDER[Math.max(0, ...verdicts.map((verdict) => ORDER.indexOf(verdict)))]!;
}
