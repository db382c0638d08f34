import { handbookCalibration } from '../core/strength/index.ts';
import type { KeptCalibration } from '../core/workspace/calibration/calibrations.repository.ts';
/** tmp */
export function makeBenchCalibration(): KeptCalibration {
  return { calibrationId: null, label: 'b@2', sha256: null, document: null, calibration: { ...handbookCalibration, name: 'b', version: 2 } };
}
