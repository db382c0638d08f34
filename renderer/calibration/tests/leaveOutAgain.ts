import type { CallResponse } from '../../types.ts';
import { useCalibration } from '../useCalibration.ts';

/** A test that was left out of the fits stays out of them in its new form. */
export function leaveOutAgain(replaced: CallResponse<'calibration.keepTests'>['replaced']): void {
  const { leftOut, setLeftOut } = useCalibration.getState();
  const later = replaced.flatMap(({ testId, by }) => (leftOut.includes(testId) ? [by] : []));
  if (later.length > 0) setLeftOut([...new Set([...leftOut, ...later])]);
}
