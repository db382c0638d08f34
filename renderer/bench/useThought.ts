import { type Thought, useBench, useLatest } from '../state/index.ts';
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

/** Asks anew for each change in thought and each decision. */
export function useThought(visitId: number, decisions: readonly Decision[]): Thinking {
  const { thought } = useBench().choices;
  const { answer, waiting } = useLatest(
    'visit.whatIf',
    thought && { visitId, decisions: [...decisions], change: changeOf(thought), maximumHz: MAXIMUM_HZ },
  );
  if (answer === null) return { whatIf: null, failure: null, waiting };
  return answer.ok
    ? { whatIf: answer.value, failure: null, waiting }
    : { whatIf: null, failure: answer, waiting };
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
