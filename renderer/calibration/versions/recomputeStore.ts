import { create } from 'zustand';
import { callHost } from '../../client.ts';
import { useChanges, useWindow } from '../../state/index.ts';
import type { CallAnswer, Failure } from '../../types.ts';
import type { RecomputeProgress } from '../calibrationTypes.ts';
import { useCalibration } from '../useCalibration.ts';

/** How often progress is asked for while a recompute runs. */
const ASK_EVERY_MS = 250;

type Recompute = {
  progress: RecomputeProgress | null;
  /** Why it could not be asked where one is. */
  failure: Failure | null;
  /** Why the last start or cancel was refused; it stands until the next one, whatever is heard in between. */
  refusal: Failure | null;
  start(calibrationId: number | null, askedBy: string): Promise<void>;
  cancel(): Promise<void>;
  /** Asks where it is, and goes on asking while one runs. */
  follow(): Promise<void>;
};

/**
 * Where a recompute of the workspace is. It is followed whatever place is open, so that what this window had stored is not told
 * to it as news. When it is done, its differences are shown.
 */
export const useRecompute = create<Recompute>()((set, get) => {
  let isOwn = false;
  let isFollowing = false;

  function take(answer: CallAnswer<'calibration.recomputeProgress'>): void {
    if (!answer.ok) {
      set({ failure: answer });
      return;
    }
    const last = get().progress?.state;
    const progress = answer.value;
    if (progress.state !== 'running' && isOwn) {
      useChanges.getState().noteOwn(progress.wrote);
      isOwn = false;
    }
    if (progress.state === 'completed' && last !== 'completed') {
      useCalibration.getState().showDifferences(progress.recomputeId);
      useWindow.getState().noteStored();
    }
    set({ progress, failure: null });
  }

  function takeAsked(answer: CallAnswer<'calibration.recomputeProgress'>): void {
    set({ refusal: answer.ok ? null : answer });
    if (answer.ok) take(answer);
  }

  return {
    progress: null,
    failure: null,
    refusal: null,
    async start(calibrationId, askedBy) {
      const answer = await callHost('calibration.recompute', { calibrationId, askedBy });
      // one that is refused because another of this window runs does not make that one foreign
      isOwn ||= answer.ok;
      takeAsked(answer);
      await get().follow();
    },
    async cancel() {
      takeAsked(await callHost('calibration.cancelRecompute', {}));
    },
    async follow() {
      if (isFollowing) return;
      isFollowing = true;
      do {
        take(await callHost('calibration.recomputeProgress', {}));
        await new Promise((resolve) => setTimeout(resolve, ASK_EVERY_MS));
      } while (get().failure === null && get().progress?.state === 'running');
      isFollowing = false;
    },
  };
});
