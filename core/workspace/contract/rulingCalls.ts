import { z } from 'zod';
import { visitId } from './common.ts';
import { newRulingSchema, personSchema, reasonSchema, rulingSchema } from './ruling.ts';

const assessmentId = z
  .int()
  .positive()
  .nullable()
  .describe('The result that the ruling is about; null: none was stored.');

const seenRulingId = z
  .int()
  .positive()
  .nullable()
  .optional()
  .describe(
    'The ruling that stood when the analyst looked; null: none. Where another stands, nothing is stored.',
  );

const poleId = z
  .string()
  .min(1)
  .describe('The pole that the analyst saw under this visit. Where it is another’s, nothing is stored.');

/** Visits that one call rules on at most: as many as one answer of the register holds. */
const MOST_VISITS = 500;

/** What people decide. A ruling is written once; a second signature or taking it back is added to it. */
export const rulingCalls = {
  'visit.rule': {
    request: newRulingSchema.extend({ visitId, assessmentId, seenRulingId }),
    response: rulingSchema,
  },
  'visits.rule': {
    request: newRulingSchema.extend({
      visits: z.array(z.object({ visitId, poleId, assessmentId, seenRulingId })).min(1).max(MOST_VISITS),
    }),
    response: z
      .object({ rulings: z.array(rulingSchema) })
      .describe('One for each visit, in order; all of them are stored, or none.'),
  },
  'ruling.sign': {
    request: z.object({ rulingId: z.int().positive(), person: personSchema }),
    response: rulingSchema,
  },
  'rulings.withdraw': {
    request: z.object({
      rulingIds: z.array(z.int().positive()).min(1).max(MOST_VISITS),
      person: personSchema,
      reason: reasonSchema
        .optional()
        .describe('Why; asked for where a ruling is signed or another person’s, and kept in the trail.'),
    }),
    response: z.object({ rulings: z.array(rulingSchema) }),
  },
};
