import type { calibrationCalls } from '../contract/calibrationCalls.ts';
import type { HandlersOf } from '../handlers.ts';
import type { Store } from '../store.ts';
import { createBreakTestHandlers } from './calibration/breakTestHandlers.ts';
import { createPriceHandlers } from './calibration/priceHandlers.ts';
import { createProfileHandlers } from './calibration/profileHandlers.ts';
import { createRecomputeHandlers } from './calibration/recomputeHandlers.ts';
import { createRelationHandlers } from './calibration/relationHandlers.ts';
import { createVersionHandlers } from './calibration/versionHandlers.ts';

export function createCalibrationHandlers(store: Store): HandlersOf<typeof calibrationCalls> {
  return {
    ...createBreakTestHandlers(store),
    ...createRelationHandlers(store),
    ...createPriceHandlers(store),
    ...createVersionHandlers(store),
    ...createRecomputeHandlers(store),
    ...createProfileHandlers(store),
  };
}
