import { z } from 'zod';
import { PREDICTORS, relationSpecSchema } from '../../strength/index.ts';
import { numbers, problem } from './common.ts';

const key = z.int().positive();
const person = z.string().trim().min(1).max(120);
const reason = z.string().trim().max(4000);
const interval = z.object({ value: z.number(), low: z.number(), high: z.number() });
const uploaded = { fileName: z.string().min(1).max(255), base64: z.string() };

const rangeSchema = z.array(
  z.object({
    name: z.enum(PREDICTORS),
    label: z.string(),
    unit: z.string(),
    min: z.number(),
    max: z.number(),
  }),
);

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
  range: rangeSchema.describe('What its tests spanned, in the unit named.'),
  results: z.int().describe('Visits whose newest result is under it.'),
});

const recomputeProgressSchema = z.object({
  state: z.enum(['idle', 'running', 'completed', 'cancelled', 'failed']),
  calibration: z.string().nullable(),
  done: z.int(),
  total: z.int(),
  secondsLeft: z.number().nullable(),
  recomputeId: key.nullable().describe('Once it is completed.'),
  problem: z.string().nullable(),
});

/** A result in a table of differences; null where it has no strength. */
const strengthSideSchema = z.object({
  calibration: z.string().nullable(),
  capacityNm: interval.nullable(),
  requirementNm: z.number().nullable(),
  chanceBelow: z.number().nullable(),
  thresholdNm: z.number().nullable(),
  chanceBelowThreshold: z.number().nullable(),
});

const differenceSchema = z.object({
  visitId: key,
  poleId: z.string(),
  date: z.string(),
  before: strengthSideSchema,
  after: strengthSideSchema,
  capacityRatio: z.number().nullable().describe('After over before, medians.'),
  crossed: z
    .array(z.enum(['requirement', 'threshold']))
    .describe('What the median capacity lay on one side of before and lies on the other side of now.'),
  reasons: z.array(z.string()),
});

const candidateSchema = z.object({
  name: z.string().trim().min(1).max(60),
  spec: relationSpecSchema,
});

const MOST_CANDIDATES = 8;
const leftOut = z.array(key).max(10_000).default([]).describe('Tests that no relation is fitted to.');

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

export const calibrationCalls = {
  'calibration.tryRelations': {
    request: z.object({ candidates: z.array(candidateSchema).min(1).max(MOST_CANDIDATES), leftOut }),
    response: z.object({ relations: z.array(judgedRelationSchema) }),
  },
  'calibration.use': {
    request: z.object({ calibrationId: key.nullable(), chosenBy: person, reason: reason.default('') }),
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
  'calibration.recompute': {
    request: z.object({ calibrationId: key.nullable(), askedBy: person }),
    response: recomputeProgressSchema,
  },
  'calibration.recomputeProgress': {
    request: z.object({}),
    response: recomputeProgressSchema,
  },
  'calibration.cancelRecompute': {
    request: z.object({}),
    response: recomputeProgressSchema,
  },
  'calibration.differences': {
    request: z.object({
      recomputeId: key,
      only: z.enum(['crossed', 'all']).default('crossed'),
      offset: z.int().min(0).default(0),
      limit: z.int().min(1).max(1000).default(200),
    }),
    response: z.object({
      calibration: z.string(),
      completedAt: z.string(),
      askedBy: z.string(),
      recomputed: z.int(),
      left: z.object({
        unchanged: z.int(),
        withoutStrength: z.int(),
        assessedMeanwhile: z.int(),
        failed: z.array(z.object({ visitId: key, message: z.string() })),
      }),
      crossings: z.object({
        requirement: z.object({ nowBelow: z.int(), nowAbove: z.int() }),
        threshold: z.object({ nowBelow: z.int(), nowAbove: z.int() }),
      }),
      ratios: numbers.describe(
        'Of median capacity, after over before, at its 5, 25, 50, 75 and 95 % quantiles.',
      ),
      rows: z.array(differenceSchema),
      matching: z.int().describe('Rows that `only` asks for, shown here or not.'),
    }),
  },
};
