import { z } from 'zod';
import { problem, visitId } from './common.ts';
import { rulingSchema } from './ruling.ts';

export const registerRowSchema = z.object({
  visitId,
  poleId: z.string(),
  species: z.string(),
  classCode: z.string().nullable(),
  lengthM: z.number(),
  date: z.string(),
  verdict: z.enum(['assessed', 'withheld', 'failed', 'not assessed']),
  frequenciesHz: z
    .array(z.number().nullable())
    .describe('Modes 1 to 3, mean over planes; null where missing.'),
  modulusPa: z.number().nullable(),
  fixity: z.number().nullable(),
  identifiability: z.string().nullable(),
  capacityNm: z.object({ value: z.number(), low: z.number(), high: z.number() }).nullable(),
  requirementNm: z.number().nullable(),
  chanceBelow: z.number().nullable(),
  findings: z.array(z.object({ id: z.string(), text: z.string() })),
  ruling: rulingSchema.nullable().describe('The latest.'),
});

const uploadedFile = z.object({ name: z.string().min(1).max(255), base64: z.string() });

const importOutcome = z.object({
  file: z.string(),
  visitId: visitId.nullable(),
  poleId: z.string().nullable(),
  status: z.enum(['imported', 'already there', 'failed']),
  error: problem.nullable(),
});

/** The workspace as a whole: what is in it, and new visits into it. */
export const registerCalls = {
  'workspace.describe': {
    request: z.object({}),
    response: z.object({
      name: z.string(),
      program: z.string(),
      visits: z.int(),
      poles: z.int(),
      notAssessed: z.int(),
      cautions: z.array(z.string()),
    }),
  },
  'register.list': {
    request: z.object({}),
    response: z.object({ rows: z.array(registerRowSchema) }),
  },
  'visits.import': {
    request: z
      .object({ files: z.array(uploadedFile).max(2000) })
      .describe('Visit files and their recordings.'),
    response: z.object({ outcomes: z.array(importOutcome) }),
  },
};
