import { z } from 'zod';
import { problem, visitId } from './common.ts';
import { rulingSchema } from './ruling.ts';

/** Why another look at a visit could change what is made of it; a visit may have several reasons. */
export const NEED_KINDS = [
  'failed',
  'withheld',
  'not assessed',
  'near threshold',
  'below threshold',
  'not separated',
  'misfit',
  'changed',
  'another pole',
  'faulty blows',
  'set by hand',
  'no threshold',
  'finding',
  'newer than ruling',
] as const;

/** Code of the one notice that goes by itself: the register is being made. */
export const REGISTER_NOTICE = 'store.register';

const VERDICTS = ['assessed', 'withheld', 'failed', 'not assessed'] as const;

const interval = z.object({ value: z.number(), low: z.number(), high: z.number() });

export const registerRowSchema = z.object({
  visitId,
  poleId: z.string(),
  species: z.string(),
  classCode: z.string().nullable(),
  lengthM: z.number(),
  date: z.string(),
  isGroundLineInspected: z.boolean().describe('A sound shell was bored at ground line and entered.'),
  assessmentId: z.int().nullable(),
  verdict: z.enum(VERDICTS),
  frequenciesHz: z
    .array(z.number().nullable())
    .describe('Modes 1 to 3, mean over planes; null where missing.'),
  modulusPa: z.number().nullable(),
  modulusIntervalPa: interval.nullable(),
  fixity: z.number().nullable(),
  fixityInterval: interval.nullable(),
  identifiability: z.string().nullable(),
  capacityNm: interval.nullable(),
  lower5PercentNm: z.number().nullable().describe('Lower 5 % exclusion value of the capacity.'),
  calibration: z.string().nullable().describe('name@version that the capacity is by.'),
  program: z.string().nullable().describe('Name and version of the program that made the result.'),
  requirementNm: z.number().nullable(),
  chanceBelow: z.number().nullable(),
  thresholdNm: z.number().nullable().describe('The requirement times the factor of its rule in service.'),
  chanceBelowThreshold: z.number().nullable(),
  strikes: z.object({ found: z.int(), usable: z.int(), faults: z.array(z.string()) }),
  findings: z.array(z.object({ id: z.string(), text: z.string() })),
  ruling: rulingSchema.nullable().describe('The latest that was not withdrawn.'),
  standing: z
    .enum(['latest', 'earlier', 'corrected'])
    .describe('earlier: the pole was visited again; corrected: a later file tells of the same visit.'),
  need: z
    .object({
      score: z.number().describe('Chance that another look changes the outcome, roughly; 0 to 1.'),
      reasons: z.array(z.object({ kind: z.enum(NEED_KINDS), words: z.string() })),
    })
    .describe('Weightiest reason first.'),
});

const SORT_KEYS = [
  'need',
  'pole',
  'date',
  'verdict',
  'f1',
  'f2',
  'f3',
  'modulus',
  'fixity',
  'capacity',
  'requirement',
  'chance',
  'threshold',
  'thresholdChance',
  'ruling',
] as const;

/** Which visits, and in which order. */
export const registerQuerySchema = z.object({
  search: z.string().max(200).default('').describe('Words that all must be in the row, in any order.'),
  sort: z
    .object({ key: z.enum(SORT_KEYS), descending: z.boolean() })
    .default({ key: 'need', descending: true }),
  ruled: z.enum(['any', 'waiting', 'ruled']).default('any'),
  reasons: z.array(z.enum(NEED_KINDS)).default([]).describe('Any of these; none given: all visits.'),
  verdicts: z.array(z.enum(VERDICTS)).default([]),
  species: z.array(z.string()).max(20).default([]),
  latestOnly: z.boolean().default(false).describe('Leaves out visits that a later one or file replaces.'),
});

const count = z.object({ value: z.string(), visits: z.int() });

const uploadedFile = z.object({ name: z.string().min(1).max(255), base64: z.string() });

export const importOutcome = z.object({
  file: z.string(),
  visitId: visitId.nullable(),
  poleId: z.string().nullable(),
  status: z.enum(['imported', 'already there', 'failed']),
  error: problem.nullable(),
  caution: z.string().nullable().describe('What is odd about a visit that was taken; null: nothing.'),
});

/** Rows that one answer holds at most; a window asks for what it shows. */
const MOST_ROWS = 500;

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
      readOnly: problem.nullable().describe('Why nothing can be changed; null where it can.'),
      notices: z.array(problem).describe('What a person should know of how the workspace was opened.'),
    }),
  },
  'register.list': {
    request: z.object({}),
    response: z.object({ rows: z.array(registerRowSchema) }),
  },
  'register.query': {
    request: registerQuerySchema.extend({
      offset: z.int().min(0).default(0),
      limit: z.int().min(1).max(MOST_ROWS).default(100),
      locate: visitId.optional().describe('A visit whose place in the order is wanted.'),
    }),
    response: z.object({
      total: z.int(),
      matching: z.int().describe('How many are listed.'),
      moreThan: z
        .int()
        .optional()
        .describe(
          'Where more visits than this have the words, they are not counted, and only the first of the order are listed.',
        ),
      place: z.int().nullable().describe('Of the visit to locate, from 0; null where it is not among these.'),
      rows: z.array(registerRowSchema).describe('From offset on, at most limit of them.'),
      counts: z
        .object({ reasons: z.array(count), verdicts: z.array(count), species: z.array(count) })
        .describe('Over the whole register.'),
      unfinished: z
        .int()
        .optional()
        .describe(
          'Poles that are not in the register yet, while it is being made; left out where it is whole.',
        ),
    }),
  },
  'visits.import': {
    request: z
      .object({ files: z.array(uploadedFile).max(2000) })
      .describe('Visit files and their recordings.'),
    response: z.object({ outcomes: z.array(importOutcome) }),
  },
};
