import { z } from 'zod';
import { PREDICTORS } from '../../../strength/relation/relationSpec.ts';
import { key, person, rangeSchema, reason, uploaded } from './common.ts';

const listedCalibrationSchema = z.object({
  calibrationId: key.nullable().describe('null: the handbook’s, which is in every workspace.'),
  label: z.string(),
  origin: z.enum(['built in', 'published', 'imported']),
  author: z.string().nullable(),
  note: z.string(),
  publishedAt: z.string().nullable(),
  about: z.string().describe('How it predicts, in a few sentences.'),
  tests: z.int().describe('Break tests behind it.'),
  dataSha256: z.string().nullable().describe('Of those tests.'),
  setAside: z
    .string()
    .nullable()
    .describe('How many of those tests somebody set aside since, in a sentence; null: none.'),
  range: rangeSchema.describe('What its tests spanned, in the unit named.'),
  results: z.int().describe('Visits whose newest result is under it.'),
  kept: z.int().describe('Results stored under it, newer ones beside them or not.'),
});

/** Versions: published, brought in, in force, handed on. */
export const versionCalls = {
  'calibration.overview': {
    request: z.object({}),
    response: z.object({
      inForce: z.object({ calibrationId: key.nullable(), label: z.string() }),
      choices: z
        .array(
          z.object({ label: z.string(), chosenAt: z.string(), chosenBy: z.string(), reason: z.string() }),
        )
        .describe('What was in force, newest first.'),
      calibrations: z.array(listedCalibrationSchema).describe('Newest first, the handbook’s last.'),
      recomputes: z.array(
        z.object({
          recomputeId: key,
          calibration: z.string(),
          completedAt: z.string(),
          askedBy: z.string(),
          results: z.int(),
        }),
      ),
      predictors: z.array(
        z.object({ name: z.enum(PREDICTORS), label: z.string(), unit: z.string(), unitInSi: z.number() }),
      ),
    }),
  },
  'calibration.use': {
    request: z.object({
      calibrationId: key.nullable(),
      chosenBy: person,
      reason: reason.default('').describe('May not be empty where the calibration has weaknesses.'),
      seenInForce: key
        .nullable()
        .optional()
        .describe('The one in force when it was chosen. Where another is, nothing is stored.'),
    }),
    response: z.object({ label: z.string() }),
  },
  'calibration.export': {
    request: z.object({ calibrationId: key }),
    response: z.object({ fileName: z.string(), json: z.string() }),
  },
  'calibration.import': {
    request: z.object(uploaded),
    response: z.object({ calibrationId: key, label: z.string(), isNew: z.boolean() }),
  },
};
