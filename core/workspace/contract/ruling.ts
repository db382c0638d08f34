import { z } from 'zod';

/** What an analyst may decide about a pole. */
export const DECISIONS = [
  'keep',
  'watch',
  'measure again',
  'excavate and bore',
  'replace or restore',
] as const;

export const rulingSchema = z.object({
  rulingId: z.int(),
  decidedAt: z.string(),
  analyst: z.string(),
  decision: z.enum(DECISIONS),
  reason: z.string(),
  assessmentId: z.int().nullable(),
});
