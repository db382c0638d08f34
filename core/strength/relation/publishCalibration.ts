import { appraiseRelation } from '../judging/appraiseRelation.ts';
import { type CalibrationDocument, calibrationDocumentSchema } from './calibrationDocument.ts';
import type { FittedRelation } from './fitRelation.ts';
import { hashRows } from './hashRows.ts';
import { parseDocument } from './readCalibrationDocument.ts';

/** Who publishes a relation, and as what. */
export type Publication = Pick<CalibrationDocument, 'name' | 'number' | 'author' | 'note' | 'publishedAt'>;

/**
 * Makes the calibration of a fitted relation: one document with the numbers that predict, what speaks against them, the tests behind them and
 * their hash.
 * @param publication - `publishedAt` in ISO 8601, UTC
 * @param armsNotShortened - tests whose moment was taken with the whole arm. @default not on record
 * @throws FormatError `calibration.schema` for a name, number or time of the wrong form
 */
export function publishCalibration(
  fit: FittedRelation,
  publication: Publication,
  armsNotShortened: number | null = null,
): CalibrationDocument {
  const { spec, relation, range, rows } = fit;
  return parseDocument(calibrationDocumentSchema, {
    format: 'stemroot-calibration',
    version: 2,
    ...publication,
    spec,
    relation,
    range,
    weaknesses: appraiseRelation(fit, armsNotShortened).weaknesses,
    rows,
    dataSha256: hashRows(rows),
  });
}
