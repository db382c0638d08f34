import { createRecomputer } from '../../calibration/createRecomputer.ts';
import { listDifferences } from '../../calibration/listDifferences.ts';
import type { recomputeCalls } from '../../contract/calibration/recomputeCalls.ts';
import type { HandlersOf } from '../../handlers.ts';
import { requireWritable } from '../../requireWritable.ts';
import type { Store } from '../../store.ts';

export function createRecomputeHandlers(store: Store): HandlersOf<typeof recomputeCalls> {
  const recomputer = createRecomputer(store);
  return {
    'calibration.recompute': ({ calibrationId, askedBy }) => {
      requireWritable(store);
      return recomputer.start(calibrationId, askedBy);
    },
    'calibration.recomputeProgress': () => recomputer.tell(),
    'calibration.cancelRecompute': () => recomputer.cancel(),
    'calibration.differences': (request) => listDifferences(store.db, request),
  };
}
