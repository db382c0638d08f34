import { sameDecisions, useLatest } from '../state/index.ts';
import type { Assessment, Bench, Decision, Failure, Picture } from '../types.ts';

/** What follows from the recordings and the decisions at hand. */
export type Trial = {
  assessment: Assessment | null;
  picture: Picture | null;
  failure: Failure | null;
  waiting: boolean;
  /** Whether this is the stored assessment, under the decisions stored with it. */
  stored: boolean;
};

/**
 * The stored assessment while the decisions are the stored ones; else a trial by the program, asked anew for each
 * change. The last result stays until a newer one is there.
 */
export function useTrial(bench: Bench, decisions: readonly Decision[]): Trial {
  const stored = bench.assessment !== null && sameDecisions(decisions, bench.decisions);
  const { visitId } = bench;
  const { answer, waiting } = useLatest(
    'visit.tryPicks',
    stored ? null : { visitId, decisions: [...decisions] },
  );
  if (stored || answer === null) {
    return {
      assessment: bench.assessment,
      picture: bench.picture,
      failure: stored || bench.assessment === null ? bench.failure : null,
      waiting: !stored,
      stored,
    };
  }
  return answer.ok
    ? { ...answer.value, failure: null, waiting, stored }
    : { assessment: null, picture: null, failure: answer, waiting, stored };
}
