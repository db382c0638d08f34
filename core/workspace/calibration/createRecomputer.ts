import { InputError, StemrootError } from '../../errors.ts';
import type { Store } from '../store.ts';
import { collectEntries } from '../trail/index.ts';
import { getCalibration, type KeptCalibration } from './calibrations.repository.ts';
import { recomputeStrength } from './recomputeStrength.ts';
import { requireAnswered } from './requireReason.ts';

export type RecomputeProgress = {
  state: 'idle' | 'running' | 'completed' | 'cancelled' | 'failed';
  calibration: string | null;
  done: number;
  total: number;
  /** From the pace so far; null before there is one. */
  secondsLeft: number | null;
  recomputeId: number | null;
  problem: string | null;
  /** Entries of the trail that it added. */
  wrote: number[];
};

export type Recomputer = {
  /** Begins in the background. @throws InputError `recompute.running`, `calibration.unknown`, `calibration.reason` */
  start(calibrationId: number | null, askedBy: string): Promise<RecomputeProgress>;
  tell(): RecomputeProgress;
  /** Asks the one that runs to stop; what it had put aside is dropped. */
  cancel(): RecomputeProgress;
};

const IDLE: RecomputeProgress = {
  state: 'idle',
  calibration: null,
  done: 0,
  total: 0,
  secondsLeft: null,
  recomputeId: null,
  problem: null,
  wrote: [],
};

/** One recompute at a time over a workspace, with its progress for whoever asks. */
export function createRecomputer(store: Store): Recomputer {
  let progress = IDLE;
  let control = new AbortController();

  return {
    async start(calibrationId, askedBy) {
      if (progress.state === 'running') {
        throw new InputError(
          'recompute.running',
          `A recompute under ${progress.calibration ?? 'another calibration'} is under way.`,
          'Wait until it is done, or cancel it.',
        );
      }
      control = new AbortController();
      // taken before anything is waited for, so that of two that ask at once one is refused
      progress = { ...IDLE, state: 'running' };
      const kept = await getAnswered(store.db, calibrationId).catch((error: unknown) => {
        progress = IDLE;
        throw error;
      });
      progress = { ...progress, calibration: kept.label };
      const startedMs = performance.now();
      const onProgress = (done: number, total: number) => {
        const secondsSoFar = (performance.now() - startedMs) / 1000;
        const secondsLeft = done > 0 ? (secondsSoFar / done) * (total - done) : null;
        progress = { ...progress, done, total, secondsLeft };
      };
      const { signal } = control;
      collectEntries(() => recomputeStrength(store, kept, { askedBy, signal, onProgress }))
        .then(({ value: outcome, entries: wrote }) => {
          const recomputeId = outcome.state === 'completed' ? outcome.recomputeId : null;
          progress = { ...progress, state: outcome.state, recomputeId, secondsLeft: null, wrote };
        })
        .catch((error: Error) => {
          if (!(error instanceof StemrootError)) console.error('A recompute failed:', error);
          progress = { ...progress, state: 'failed', problem: error.message, secondsLeft: null };
        });
      return progress;
    },
    tell: () => progress,
    cancel() {
      control.abort();
      return progress;
    },
  };
}

async function getAnswered(db: Store['db'], calibrationId: number | null): Promise<KeptCalibration> {
  await requireAnswered(db, calibrationId);
  return getCalibration(db, calibrationId);
}
