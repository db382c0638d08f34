import { z } from 'zod';
import { FormatError, StemrootError } from '../../errors.ts';
import { parsePlainly } from '../../parsePlainly.ts';
import { type CalibrationDocument, calibrationDocumentSchema } from './calibrationDocument.ts';
import { type FittedRelation, fitRelation } from './fitRelation.ts';
import { hashRows } from './hashRows.ts';
import { judgeAnew } from './judgeAnew.ts';

/** Two fits of the same tests may differ by rounding and by where an iteration ends; this share moves no digit that is shown. */
const REFIT_TOLERANCE = 1e-5;

const envelopeSchema = z.looseObject({ format: z.literal('stemroot-calibration'), version: z.number() });
/** The first is of an earlier program and says nothing of weaknesses. */
const KNOWN_VERSIONS = [1, 2];

/**
 * Reads a calibration as another workspace exported it, and repeats its fit: the hash must be that of its tests, and the tests must give its numbers.
 * What speaks against it is found anew ({@link judgeAnew}); a document of the first version keeps that nobody asked.
 * @param content - parsed JSON
 * @throws FormatError `calibration.format` for another kind of file, `calibration.version` for one of a later program, `calibration.schema`
 * for a field of the wrong form, `calibration.hash` where tests were changed, `calibration.refit` where its numbers are not those that the tests give
 */
export function readCalibrationDocument(content: unknown): CalibrationDocument {
  const envelope = envelopeSchema.safeParse(content);
  if (!envelope.success) {
    throw new FormatError(
      'calibration.format',
      'The file is not a calibration: field format is not "stemroot-calibration".',
      'Choose a file that was exported as a calibration.',
    );
  }
  if (!KNOWN_VERSIONS.includes(envelope.data.version)) {
    throw new FormatError(
      'calibration.version',
      `The file has version ${envelope.data.version} of the calibration format; this program reads ${KNOWN_VERSIONS.join(' and ')}.`,
      'Use the program that wrote it, or a later one.',
    );
  }
  const document = parseDocument(calibrationDocumentSchema, content);
  if (hashRows(document.rows) !== document.dataSha256) {
    throw new FormatError(
      'calibration.hash',
      `The tests of ${document.name}@${document.number} are not those that it was published with: their hash is not dataSha256.`,
      'Ask the author for the file as published.',
    );
  }
  const fit = repeatFit(document);
  return document.version === 1 ? document : { ...document, weaknesses: judgeAnew(document, fit) };
}

/** @throws FormatError `calibration.schema` naming the first field that is wrong */
export function parseDocument<T>(schema: z.ZodType<T>, content: unknown): T {
  const parsed = parsePlainly(schema, content);
  if (parsed.success) return parsed.data;
  throw new FormatError(
    'calibration.schema',
    `Calibration, field ${parsed.field}: ${parsed.words}.`,
    'Compare with core/strength/relation/calibration.schema.json.',
  );
}

/** @throws FormatError `calibration.refit` */
function repeatFit({ name, number, spec, relation, range, rows }: CalibrationDocument): FittedRelation {
  const refuse = (because: string): never => {
    throw new FormatError(
      'calibration.refit',
      `The tests of ${name}@${number} do not give its relation: ${because}`,
      'Fit the relation anew from its tests and publish that.',
    );
  };
  try {
    const fit = fitRelation(rows, spec);
    const because =
      findDifference({ ...relation, notes: [] }, { ...fit.relation, notes: [] }, 'relation') ??
      findDifference(range, fit.range, 'range');
    if (because !== null) refuse(because);
    return fit;
  } catch (error) {
    if (error instanceof StemrootError && !(error instanceof FormatError)) refuse(error.message);
    throw error;
  }
}

/** The first place where two parts of a document differ by more than rounding; null where they do not. */
function findDifference(told: unknown, fitted: unknown, path: string): string | null {
  if (typeof told === 'object' && told !== null && typeof fitted === 'object' && fitted !== null) {
    const other = new Map(Object.entries(fitted));
    const keys = Object.keys(told);
    if (keys.length !== other.size)
      return `${path} has ${keys.length} entries, and ${other.size} by a new fit.`;
    for (const [key, value] of Object.entries(told)) {
      const difference = findDifference(value, other.get(key), `${path}.${key}`);
      if (difference !== null) return difference;
    }
    return null;
  }
  const same =
    typeof told === 'number' && typeof fitted === 'number'
      ? Math.abs(told - fitted) <= REFIT_TOLERANCE * Math.max(Math.abs(told), Math.abs(fitted))
      : told === fitted;
  return same ? null : `${path} is ${told}, and ${fitted} by a new fit.`;
}
