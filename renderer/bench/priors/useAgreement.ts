import { useEffect, useEffectEvent, useState } from 'react';
import { decide, useBench, useLatest } from '../../state/index.ts';
import type { PriorDecision } from '../../types.ts';

/**
 * Asks the program whether it can assess the visit with a prior before that is set, so that what it refuses is told where it was
 * typed and the result stays.
 * @param onAgreed - given a prior that was asked about and that it can be assessed with
 */
export function useAgreement(onAgreed: (decision: PriorDecision) => void): {
  ask: (decision: PriorDecision | null) => void;
  waiting: boolean;
  refusal: string | undefined;
} {
  const { visitId, choices } = useBench();
  const [asked, ask] = useState<PriorDecision | null>(null);
  const { answer, waiting } = useLatest(
    'visit.tryPicks',
    asked && { visitId, decisions: decide(choices.decisions, asked) },
  );
  const tell = useEffectEvent(onAgreed);
  const isAgreed = !waiting && answer?.ok === true;
  useEffect(() => {
    if (asked && isAgreed) tell(asked);
  }, [asked, isAgreed]);
  return { ask, waiting, refusal: waiting || answer?.ok !== false ? undefined : answer.message };
}
