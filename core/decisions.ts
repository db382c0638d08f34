import { z } from 'zod';
import { rootSharesSchema } from './recording/index.ts';

/**
 * What an analyst decides about a visit before the chain concludes: picks, peaks refused, strikes used or left out, priors. They
 * are stored with every result that they led to. A pick has no `kind`: it came first, and stored ones have none.
 */

const plane = z.int().min(0).max(15);
const frequencyHz = z.number().min(0.1).max(1000);
const reason = z.string().trim().min(1).max(400);

const pickSchema = z.strictObject({
  plane,
  number: z.int().min(1).max(4),
  frequencyHz: frequencyHz
    .nullable()
    .describe('Mode `number` of the plane is at this frequency; null: the plane has no such mode.'),
});

const refusalSchema = z.strictObject({
  kind: z.literal('refusal'),
  plane,
  frequencyHz: frequencyHz.describe(
    'The peak here is no bending mode of the pole; its number is free for another.',
  ),
});

const strikeSchema = z.strictObject({
  kind: z.literal('strike'),
  recording: z.string().max(255),
  strike: z.int().min(0).describe('Its place among the strikes of the recording, from 0.'),
  use: z.boolean().describe('Whether the strike counts, whatever its checks say.'),
  reason,
});

const lognormalPrior = z.strictObject({ median: z.number().positive(), logSd: z.number().positive() });
const lengthPrior = z.strictObject({ median: z.number().positive(), sd: z.number().positive() });
const priorSchema = z.strictObject({
  kind: z.literal('prior'),
  prior: z.union([
    z.strictObject({
      name: z.enum(['modulusPa', 'densityKgPerM3', 'soilModulus', 'rotationalStiffnessNmPerRad']),
      ...lognormalPrior.shape,
    }),
    z.strictObject({ name: z.enum(['settingDepthM', 'tipGirthM']), ...lengthPrior.shape }),
    rootSharesSchema
      .safeExtend({ name: z.literal('rootModels') })
      .describe('Which root models compete, whatever options.root of the visit says.'),
  ]),
  reason,
});

const decisionSchema = z.union([pickSchema, refusalSchema, strikeSchema, priorSchema]);
/** More than these no visit needs; a request with more is refused. */
const MOST_DECISIONS = 200;
export const decisionsSchema = z.array(decisionSchema).max(MOST_DECISIONS);

export type Decision = z.infer<typeof decisionSchema>;
export type PickDecision = z.infer<typeof pickSchema>;
export type Refusal = z.infer<typeof refusalSchema>;
export type StrikeDecision = z.infer<typeof strikeSchema>;
export type PriorDecision = z.infer<typeof priorSchema>;

export type SortedDecisions = {
  readonly picks: readonly PickDecision[];
  readonly refusals: readonly Refusal[];
  readonly strikes: readonly StrikeDecision[];
  readonly priors: readonly PriorDecision[];
};

/** Decisions by what they are about, each kind in the order given. */
export function sortDecisions(decisions: readonly Decision[]): SortedDecisions {
  const ofKind = <K extends 'refusal' | 'strike' | 'prior'>(kind: K) =>
    decisions.filter(
      (decision): decision is Extract<Decision, { kind: K }> => 'kind' in decision && decision.kind === kind,
    );
  return {
    picks: decisions.filter((decision): decision is PickDecision => !('kind' in decision)),
    refusals: ofKind('refusal'),
    strikes: ofKind('strike'),
    priors: ofKind('prior'),
  };
}
