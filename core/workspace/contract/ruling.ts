import { z } from 'zod';

/** What an analyst may decide about a pole. */
export const DECISIONS = [
  'keep',
  'watch',
  'measure again',
  'excavate and bore',
  'replace or restore',
] as const;

/** Who ruled, signed or withdrew. */
export const personSchema = z.string().trim().min(1).max(120);

/** Why a person ruled, or took a ruling back. */
export const reasonSchema = z.string().trim().min(1).max(4000);

const markSchema = z.object({ person: z.string(), markedAt: z.string() });

export const rulingSchema = z.object({
  rulingId: z.int(),
  decidedAt: z.string(),
  analyst: z.string(),
  decision: z.enum(DECISIONS),
  reason: z.string(),
  assessmentId: z.int().nullable(),
  signed: markSchema.nullable().describe('A second signature, where somebody gave one.'),
  withdrawn: markSchema
    .extend({
      reason: z.string().optional().describe('Where one was given; told with the rulings of one visit.'),
    })
    .nullable()
    .describe('Set where the ruling was taken back; it stays on record.'),
});

/** What every new ruling says, on however many visits. */
export const newRulingSchema = z.object({
  analyst: personSchema,
  decision: rulingSchema.shape.decision,
  reason: reasonSchema,
  inSpite: z
    .boolean()
    .optional()
    .describe('A pole is kept though its result speaks against it: the analyst was told, and means it.'),
  secondPerson: personSchema.optional().describe('Signs beside the analyst at once.'),
});
