import { useEffect, useMemo, useState } from 'react';
import { callHost } from '../client.ts';
import { type Thought, useBench } from '../state/index.ts';
import type { CallRequest, Decision, Failure, WhatIf } from '../types.ts';
import { MAXIMUM_HZ } from './spectrumFrames.ts';

type Change = CallRequest<'visit.whatIf'>['change'];

/** What a pole changed in thought would ring like; nothing of it is stored. */
export type Thinking = {
  /** The answer to the last change that was answered; null while nothing is changed in thought. */
  whatIf: WhatIf | null;
  failure: Failure | null;
  waiting: boolean;
};

/** A run of arrow keys or a drag asks once it rests for this long. */
const REST_MS = 120;

/** Asks anew for each change in thought and each decision on picks; answers that were overtaken are dropped. */
export function useThought(visitId: number, decisions: readonly Decision[]): Thinking {
  const { thought } = useBench().choices;
  const [answered, setAnswered] = useState<{ key: string; whatIf: WhatIf | null; failure: Failure | null }>();
  const key = useMemo(
    () => (thought === null ? null : JSON.stringify({ decisions, change: changeOf(thought) })),
    [thought, decisions],
  );
  useEffect(() => {
    if (key === null) {
      setAnswered(undefined);
      return;
    }
    let overtaken = false;
    const timer = setTimeout(async () => {
      const asked = JSON.parse(key) as { decisions: Decision[]; change: Change };
      const answer = await callHost('visit.whatIf', { visitId, ...asked, maximumHz: MAXIMUM_HZ });
      if (overtaken) return;
      setAnswered(
        answer.ok ? { key, whatIf: answer.value, failure: null } : { key, whatIf: null, failure: answer },
      );
    }, REST_MS);
    return () => {
      overtaken = true;
      clearTimeout(timer);
    };
  }, [visitId, key]);

  if (key === null) return { whatIf: null, failure: null, waiting: false };
  return {
    whatIf: answered?.whatIf ?? null,
    failure: answered?.failure ?? null,
    waiting: answered?.key !== key,
  };
}

/** A mass counts once its height is known. */
function changeOf({ place, cableFactor, massKg, massHeightM, settingDepthM }: Thought): Change {
  return {
    ...place,
    ...(cableFactor !== null && { cableFactor }),
    ...(massKg !== null && massHeightM !== null && { addedMass: { massKg, heightM: massHeightM } }),
    ...(settingDepthM !== null && { settingDepthM }),
  };
}
