import { z } from 'zod';
import { numbers } from '../common.ts';
import { interval, key, person } from './common.ts';

const recomputeProgressSchema = z.object({
  state: z.enum(['idle', 'running', 'completed', 'cancelled', 'failed']),
  calibration: z.string().nullable(),
  done: z.int(),
  total: z.int(),
  secondsLeft: z.number().nullable(),
  recomputeId: key.nullable().describe('Once it is completed.'),
  problem: z.string().nullable(),
  wrote: z
    .array(z.int())
    .describe('Entries of the trail that it added; the window that asked for it knows them as its own.'),
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
  strength: z
    .enum(['lost', 'gained'])
    .nullable()
    .describe('Whether a strength is told no more, or only now.'),
  reasons: z.array(z.string()),
});

/** Visits whose median capacity lies on the other side now, and the poles that they were to. */
const crossingsSchema = z.object({
  nowBelow: z.int(),
  polesNowBelow: z.int(),
  nowAbove: z.int(),
  polesNowAbove: z.int(),
});

/** Visits that are told no strength any more, how many of them were below the requirement, and visits that are told one only now. */
const strengthsSchema = z.object({
  lost: z.int(),
  polesLost: z.int(),
  lostBelow: z.int(),
  gained: z.int(),
  polesGained: z.int(),
});

/** The workspace under another calibration, in the background, and what that changes. */
export const recomputeCalls = {
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
      only: z
        .enum(['crossed', 'all'])
        .default('crossed')
        .describe('Visits that change side, or that lose or gain a strength; or every one.'),
      offset: z.int().min(0).default(0),
      limit: z.int().min(1).max(1000).default(200),
    }),
    response: z.object({
      calibration: z.string(),
      completedAt: z.string(),
      askedBy: z.string(),
      recomputed: z.int().describe('New results, one a visit.'),
      poles: z.int().describe('Poles that these visits were to.'),
      left: z.object({
        unchanged: z.int(),
        withoutStrength: z.int(),
        assessedMeanwhile: z.int(),
        failed: z.array(z.object({ visitId: key, message: z.string() })),
      }),
      crossings: z.object({
        requirement: crossingsSchema,
        threshold: crossingsSchema,
      }),
      strengths: strengthsSchema,
      ratios: numbers.describe(
        'Of median capacity, after over before, at its 5, 25, 50, 75 and 95 % quantiles.',
      ),
      rows: z.array(differenceSchema),
      matching: z.int().describe('Rows that `only` asks for, shown here or not.'),
    }),
  },
};
