import { z } from 'zod';
import { visitId } from './common.ts';
import { rulingSchema } from './ruling.ts';

const interval = z.object({ value: z.number(), low: z.number(), high: z.number() });

const historyVisitSchema = z.object({
  visitId,
  date: z.string(),
  file: z.string(),
  importedAt: z.string(),
  correctedBy: visitId
    .nullable()
    .describe('A file brought in later that shares a recording with this one: the same visit, corrected.'),
  assessmentId: z.int().nullable(),
  verdict: z.enum(['assessed', 'withheld', 'failed', 'not assessed']),
  modulusPa: interval.nullable(),
  fixity: interval.nullable(),
  rotationalStiffnessNmPerRad: interval.nullable(),
  capacityNm: interval.nullable(),
  requirementNm: z.number().nullable(),
  thresholdNm: z.number().nullable(),
  modes: z.array(
    z.object({
      plane: z.int(),
      azimuthDeg: z.number(),
      number: z.int(),
      frequencyHz: z.object({ value: z.number(), sd: z.number() }),
    }),
  ),
  changes: z
    .string()
    .nullable()
    .describe('What differs from an earlier visit by more than both measurements explain; null: nothing.'),
  ruling: rulingSchema.nullable(),
});

/** One pole over the years. */
export const historyCalls = {
  'pole.history': {
    request: z.object({ visitId }),
    response: z.object({
      poleId: z.string(),
      latitude: z.number().nullable(),
      longitude: z.number().nullable(),
      visits: z.array(historyVisitSchema).describe('Every visit to the pole, by date.'),
    }),
  },
};
