import { breakTestCalls } from './calibration/breakTestCalls.ts';
import { priceCalls } from './calibration/priceCalls.ts';
import { profileCalls } from './calibration/profileCalls.ts';
import { recomputeCalls } from './calibration/recomputeCalls.ts';
import { relationCalls } from './calibration/relationCalls.ts';
import { versionCalls } from './calibration/versionCalls.ts';

/** The calls of the calibration place, and of what lines ask of their poles. */
export const calibrationCalls = {
  ...breakTestCalls,
  ...relationCalls,
  ...priceCalls,
  ...versionCalls,
  ...recomputeCalls,
  ...profileCalls,
};
