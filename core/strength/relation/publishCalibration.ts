import { type CalibrationDocument, calibrationDocumentSchema } from './calibrationDocument.ts';
import type { FittedRelation } from './fitRelation.ts';
import { hashRows } from './hashRows.ts';
import { parseDocument } from './readCalibrationDocument.ts';

/** Who publishes a relation, and as what. */
export type Publication = Pick<CalibrationDocument, 'name' | 'number' | 'author' | 'note' | 'publishedAt'>;

/**
 * Makes the calibration of a fitted relation: one document with the numbers that predict, the tests behind them and their hash.
 * @param publication - `publishedAt` in ISO 8601, UTC
 * @throws FormatError `calibration.schema` for a name, number or time of the wrong form
 */
export function publishCalibration(
  { spec, relation, range, rows }: FittedRelation,
  publication: Publication,
): CalibrationDocument {
  return parseDocument(calibrationDocumentSchema, {
    format: 'stemroot-calibration',
    version: 1,
    ...publication,
    spec,
    relation,
    range,
    rows,
    dataSha256: hashRows(rows),
  });
}
