import { useEffect, useState } from 'react';
import { callHost } from '../client.ts';
import { sameDecisions } from '../state/index.ts';
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

/** A run of arrow keys or a drag asks once it rests for this long. */
const REST_MS = 120;

type Tried = {
  decisions: readonly Decision[];
  assessment: Assessment | null;
  picture: Picture | null;
  failure: Failure | null;
};

/**
 * The stored assessment while the decisions are the stored ones; else a trial by the program, asked anew for each
 * change. The latest change wins: answers to earlier ones are dropped, and the last result stays until then.
 */
export function useTrial(bench: Bench, decisions: readonly Decision[]): Trial {
  const [tried, setTried] = useState<Tried | null>(null);
  const stored = bench.assessment !== null && sameDecisions(decisions, bench.decisions);
  const { visitId } = bench;

  useEffect(() => {
    if (stored) return;
    let overtaken = false;
    const timer = setTimeout(async () => {
      const answer = await callHost('visit.tryPicks', { visitId, decisions: [...decisions] });
      if (overtaken) return;
      setTried(
        answer.ok
          ? { decisions, ...answer.value, failure: null }
          : { decisions, assessment: null, picture: null, failure: answer },
      );
    }, REST_MS);
    return () => {
      overtaken = true;
      clearTimeout(timer);
    };
  }, [visitId, decisions, stored]);

  if (stored) {
    return {
      assessment: bench.assessment,
      picture: bench.picture,
      failure: bench.failure,
      waiting: false,
      stored: true,
    };
  }
  const waiting = tried === null || !sameDecisions(tried.decisions, decisions);
  const shown = tried ?? {
    assessment: bench.assessment,
    picture: bench.picture,
    failure: bench.assessment === null ? bench.failure : null,
  };
  return {
    assessment: shown.assessment,
    picture: shown.picture,
    failure: shown.failure,
    waiting,
    stored: false,
  };
}
