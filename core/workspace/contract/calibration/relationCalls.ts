import { z } from 'zod';
import { problem } from '../common.ts';
import { candidateSchema, interval, key, leftOut, person, rangeSchema, reason } from './common.ts';

const MOST_CANDIDATES = 8;

/** A break test among the others, as a relation sees it. Strength in Pa, whatever the scale of the fit. */
const judgedTestSchema = z.object({
  testId: key,
  measuredPa: z.number(),
  fittedPa: z.number(),
  predictedPa: z.number().describe('By the relation fitted without this pole.'),
  lowPa: z.number(),
  highPa: z
    .number()
    .describe('With lowPa the 90 % prediction interval of the relation fitted without this pole.'),
  residual: z
    .number()
    .describe(
      'Over its own standard deviation, from the fit with all tests but this one (externally studentised).',
    ),
  normalQuantile: z.number().describe('Where the residual of this rank would lie if residuals were normal.'),
  leverage: z.number(),
  cooksDistance: z.number(),
  distance: z.number().describe('From the middle of the tests, in predictors.'),
  weight: z.number().describe('What a robust fit left of the test; 1 otherwise.'),
});

const errorSchema = z.object({
  rootMeanSquareShare: z.number().describe('Of predicted against measured strength, as a share.'),
  biasShare: z.number(),
  insideInterval: z.number().describe('Share of tests inside their 90 % prediction interval.'),
});

const judgedRelationSchema = z.object({
  name: z.string(),
  problem: problem.nullable().describe('Why there is no relation; the rest is null then.'),
  judged: z
    .object({
      used: z.int(),
      poles: z.int(),
      unused: z.array(z.object({ testId: key, reason: z.string() })),
      terms: z.array(
        z.object({
          term: z.string(),
          label: z.string(),
          value: z.number(),
          low: z.number(),
          high: z.number(),
        }),
      ),
      groups: z.array(
        z.object({
          factor: z.string(),
          treatedAs: z.enum(['fixed', 'pooled']),
          levels: z.array(z.object({ level: z.string(), poles: z.int(), effect: z.number() })),
        }),
      ),
      rSquared: z.number(),
      standardError: z.number().describe('On the scale of the fit: of ln strength, or in Pa.'),
      standardErrorUnit: z.enum(['ln', 'Pa']),
      leaveOneOut: errorSchema,
      folds: errorSchema.extend({ folds: z.int() }),
      tests: z.array(judgedTestSchema),
      learning: z.array(
        z.object({
          tests: z.int(),
          errorShare: interval,
          isForecast: z.boolean().describe('Beyond the tests that there are.'),
        }),
      ),
      influenceLimits: z.object({ leverage: z.number(), cooksDistance: z.number() }),
      range: rangeSchema,
      distanceLimit: z.number().nullable(),
      notes: z.array(z.string()),
    })
    .nullable(),
});

/** Candidate relations judged side by side, and one of them published. */
export const relationCalls = {
  'calibration.tryRelations': {
    request: z.object({ candidates: z.array(candidateSchema).min(1).max(MOST_CANDIDATES), leftOut }),
    response: z.object({ relations: z.array(judgedRelationSchema) }),
  },
  'calibration.publish': {
    request: z.object({
      candidate: candidateSchema,
      leftOut,
      name: z
        .string()
        .max(60)
        .regex(/^[a-z0-9][a-z0-9-]*$/, 'small letters, digits and hyphens are expected'),
      author: person,
      note: reason,
    }),
    response: z.object({ calibrationId: key, label: z.string() }),
  },
};
