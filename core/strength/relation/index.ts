/**
 * Relations from what is measured on a pole to its strength, fitted to break tests: the row of a test, the choices of an
 * engineer, the fit, the prediction for one pole, and the calibration as one file.
 * Pure functions over rows in memory; the workspace keeps the files.
 */
export { type BreakTestRow, breakTestRowSchema } from './breakTestRow.ts';
export {
  type CalibrationDocument,
  calibrationDocumentSchema,
  type RelationFit,
  type ValidityRange,
} from './calibrationDocument.ts';
export {
  FACTORS,
  type FactorName,
  PREDICTORS,
  type PredictorName,
  type RelationSpec,
  relationSpecSchema,
} from './relationSpec.ts';
