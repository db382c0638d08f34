/*
 * Calibration: break tests in, relations side by side, the price of thresholds, versions and what they change. Fetched
 * when it is first opened; the other places do without it.
 */
import { lazy } from 'react';

export const CalibrationPlace = lazy(() => import('./CalibrationPlace.tsx'));
