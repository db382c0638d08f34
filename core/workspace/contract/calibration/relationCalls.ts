import { z } from 'zod';
import { problem } from '../common.ts';
import { candidateSchema, interval, key, leftOut, person, rangeSchema, reason } from './common.ts';

const MOST_CANDIDATES = 8;

const pascal = z.number();
/** null where the relation cannot speak of the test without its pole, or the test alone decides a coefficient. */
const told = z.number().nullable();

/** A break test among the others, as a relation sees it. Strength in Pa, whatever the scale of the fit. */
const judgedTestSchema = z.object({
  testId: key,
  measuredPa: pascal,
  fittedPa: pascal,
  predictedPa: told.describe('By the relation fitted without this pole.'),
  lowPa: told,
  highPa: told.describe('With lowPa the 90 % prediction interval of the relation fitted without this pole.'),
  residual: told.describe('Over its own standard deviation, from the fit with all tests but this one.'),
  normalQuantile: z.number().describe('Where the residual of this rank would lie if residuals were normal.'),
  leverage: z.number(),
  cooksDistance: told,
  distance: z.number().describe('From the middle of the tests over all predictors, in standard deviations.'),
  weight: z.number().describe('What a robust fit left of the test; 1 otherwise.'),
});

/** Errors are null where nothing was predicted. */
const errorSchema = z.object({
  rootMeanSquareShare: told.describe('Of predicted over measured strength, less 1.'),
  biasShare: told.describe('Above 0, strength was promised that was not there.'),
  insideInterval: told.describe('Share of tests inside their 90 % prediction interval.'),
  withheld: z.int().describe('Tests that nothing was predicted of.'),
});

const judgedRelationSchema = z.object({
  name: z.string(),
  problem: problem.nullable().describe('Why there is no relation; the rest is null then.'),
  judged: z
    .object({
      poles: z.int(),
      about: z.string().describe('How it predicts, in a few sentences.'),
      formula: z.string().describe('How strength follows, about the means of the tests.'),
      terms: z
        .array(interval.extend({ label: z.string(), unit: z.string() }))
        .describe(
          'Its figures with 90 % intervals: strength at the means of the tests, then the predictors.',
        ),
      groups: z.array(
        z.object({
          factor: z.string(),
          treatedAs: z.enum(['fixed', 'pooled']),
          levels: z.array(
            z.object({
              level: z.string(),
              poles: z.int(),
              effect: z.number().describe('On the scale of the fit: of ln strength, or in Pa.'),
            }),
          ),
        }),
      ),
      rSquared: z.number(),
      standardError: z.number().describe('On the scale of the fit: of ln strength, or in Pa.'),
      standardErrorUnit: z.enum(['ln', 'Pa']),
      leaveOneOut: errorSchema,
      folds: errorSchema.extend({ folds: z.int() }),
      tests: z.array(judgedTestSchema),
      influenceLimits: z.object({ leverage: z.number(), cooksDistance: z.number() }),
      range: rangeSchema,
      distanceLimit: z.number().nullable(),
      notes: z.array(z.string()),
    })
    .nullable(),
});

const forecastSchema = z.object({
  tests: z.int(),
  error: z.number().describe('Root mean square, in standard deviations of one pole.'),
  reach: z.number().describe('Of the 95 % prediction interval to either side, in the same.'),
  lower5Percent: z.number(),
  tolerance: z.number(),
});

/** Candidate relations judged side by side, and one of them published. */
export const relationCalls = {
  'calibration.tryRelations': {
    request: z.object({ candidates: z.array(candidateSchema).min(1).max(MOST_CANDIDATES), leftOut }),
    response: z.object({
      commonTests: z.int().describe('Tests that every candidate can use: all are judged on these.'),
      unused: z.array(key).describe('Tests that some candidate cannot use.'),
      relations: z.array(judgedRelationSchema),
    }),
  },
  'calibration.learning': {
    request: z.object({
      candidate: candidateSchema,
      leftOut,
      more: z.int().min(1).max(1000).default(20).describe('Tests that the forecast adds.'),
    }),
    response: z.object({
      points: z.array(
        z.object({
          tests: z.int(),
          errorShare: interval,
          isForecast: z.boolean().describe('Beyond the tests that there are, by theory.'),
        }),
      ),
      now: forecastSchema,
      withMore: forecastSchema,
    }),
  },
  'calibration.appraise': {
    request: z.union([
      z.object({ candidate: candidateSchema, leftOut }),
      z.object({ calibrationId: key.nullable().describe('Of a kept one; null: the handbook’s.') }),
    ]),
    response: z.object({
      lines: z
        .array(z.object({ name: z.string(), text: z.string() }))
        .describe('What is published or put to use, in words.'),
      weaknesses: z
        .array(z.object({ id: z.string(), text: z.string() }))
        .describe('What speaks against it; with any, a reason is asked for.'),
    }),
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
      note: reason.min(1, 'where the tests are from, and what the relation is for'),
      despite: reason
        .default('')
        .describe(
          'Why it is published in spite of its weaknesses; asked for where it has any, kept in the trail.',
        ),
      seen: z
        .object({
          setId: key.nullable().describe('The set of break tests that was kept last; null: none.'),
          choice: z.int().min(0).describe('lastChoice of the list of break tests.'),
          number: z.int().min(0).describe('The last version of this name; 0: none.'),
        })
        .optional()
        .describe('What was there when the relation was looked at. Where more is, nothing is stored.'),
    }),
    response: z.object({ calibrationId: key, label: z.string() }),
  },
};
