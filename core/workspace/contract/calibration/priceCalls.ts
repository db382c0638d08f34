import { z } from 'zod';
import { candidateSchema, key, leftOut } from './common.ts';

const bounds = z.object({ low: z.number(), high: z.number(), level: z.number() });
const counted = bounds.extend({ count: z.number() });
const share = bounds.extend({ value: z.number() });
const threshold = z.number().min(0).max(1).nullable().describe('null: no pole is replaced.');

const weakBelowSchema = z
  .discriminatedUnion('kind', [
    z.object({
      kind: z.literal('fibreStress'),
      factor: z.number().positive().max(2).describe('Share of the designated fibre stress of the species.'),
    }),
    z.object({ kind: z.literal('stress'), stressPa: z.number().min(1e5).max(1e9) }),
  ])
  .describe('Stress at ground line below which a tested pole counts as weak.');

const costsSchema = z.object({
  missedWeak: z.number().positive().max(1e12),
  needlessReplacement: z.number().positive().max(1e12),
});

const priceSchema = z.object({
  tests: z.int(),
  poles: z.int(),
  weak: z.int(),
  shareWeak: z.number(),
  prices: z
    .array(
      z.object({
        threshold,
        above: z
          .number()
          .nullable()
          .describe('Every threshold above this, up to `highest`, parts the tests so.'),
        highest: z
          .number()
          .nullable()
          .describe('null: however high. Between it and the next `above`, tests are parted nearly so.'),
        missed: counted,
        needless: counted,
        missedShare: share.nullable(),
        needlessShare: share.nullable(),
        cost: z.object({ value: z.number(), interval: bounds.nullable(), bootstrap: bounds.nullable() }),
      }),
    )
    .readonly(),
  best: z
    .object({
      threshold,
      cost: z.number(),
      correctedCost: z.number(),
      thresholdLow: threshold,
      thresholdHigh: threshold,
    })
    .nullable(),
  thresholdByCosts: z.number(),
  statements: z.array(z.string()).readonly(),
});

const rocSchema = z.object({
  points: z.array(z.object({ threshold, needlessShare: z.number(), caughtShare: z.number() })).readonly(),
  area: z.number(),
  interval: bounds.nullable(),
  bootstrap: bounds.nullable(),
  statements: z.array(z.string()).readonly(),
});

/** What each threshold costs. */
export const priceCalls = {
  'calibration.price': {
    request: z.object({
      candidate: candidateSchema,
      leftOut,
      weakBelow: weakBelowSchema,
      costs: costsSchema,
      shareWeak: z
        .number()
        .positive()
        .max(0.999)
        .nullable()
        .describe('Of the poles that the threshold is for; null: as among the tests.'),
    }),
    response: z.object({
      prices: priceSchema,
      roc: rocSchema.nullable().describe('null where the tests hold poles of one kind only.'),
      limits: z.array(z.object({ species: z.string(), stressPa: z.number(), source: z.string() })),
      unpriced: z.array(z.object({ testId: key, reason: z.string() })),
    }),
  },
  'calibration.secondVisits': {
    request: z.object({ costs: costsSchema, limit: z.int().min(1).max(300).default(50) }),
    response: z.object({
      calibration: z.string().describe('In force: the one that the decision is about.'),
      visits: z
        .array(
          z.object({
            visitId: key,
            poleId: z.string(),
            date: z.string(),
            chanceBelow: z
              .number()
              .describe('That capacity is below the threshold of the strength-loss rule.'),
            action: z.enum(['replace', 'keep']).describe('What costs less now.'),
            costNow: z.number(),
            costAfter: z.number(),
            value: z.number().describe('Expected cost that a second visit saves.'),
            perfectValue: z.number().describe('The same if it told capacity exactly; no visit saves more.'),
            chanceOfChange: z.number(),
          }),
        )
        .describe('Worth most first.'),
      known: z
        .int()
        .describe('Visits with a chance; those nearest to the turn of the decision were looked at.'),
    }),
  },
};
