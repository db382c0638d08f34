import { z } from 'zod';
import { sha256, visitId } from './common.ts';

const words = z.array(z.string());

const trailEntrySchema = z.object({
  seq: z.int(),
  at: z.string(),
  who: z.string(),
  program: z.string(),
  action: z.string(),
  subject: z.string(),
  before: z.unknown(),
  after: z.unknown(),
  why: z.string().nullable(),
  rows: z.int().describe('How many rows the change wrote.'),
  sha256,
});

/** Whether the workspace is whole and stands as its trail tells, the trail itself, and a backup. */
export const careCalls = {
  'care.check': {
    request: z.object({}),
    response: z.object({
      faults: words.describe('None where the file is whole.'),
      rows: z.array(z.object({ table: z.string(), count: z.int() })),
      sizeBytes: z.number(),
    }),
  },
  'care.prove': {
    request: z.object({ known: sha256.optional().describe('Hash of an entry, noted down earlier.') }),
    response: z.object({
      holds: z.boolean(),
      chain: z.object({
        entries: z.int(),
        head: z.object({ seq: z.int(), at: z.string(), sha256: z.string() }).nullable(),
        faults: words,
        remarks: words,
        known: z.boolean().nullable(),
      }),
      rows: words,
      evidence: words,
      form: words,
      recordings: z.int(),
      visits: z.int(),
    }),
  },
  'care.changes': {
    request: z.object({
      after: z
        .int()
        .min(0)
        .optional()
        .describe('The last entry of the trail that is known; absent: only the last one is asked for.'),
    }),
    response: z.object({
      last: z.int().describe('Number of the last entry; 0: there is none.'),
      entries: z
        .array(z.object({ seq: z.int(), at: z.string(), who: z.string(), words: z.string() }))
        .describe('Those since, the latest first and the earliest left out where they are many.'),
      now: z.string().describe('The clock that the entries are told by.'),
    }),
  },
  'care.register': {
    request: z.object({ rebuild: z.boolean().default(false) }),
    response: z.object({
      visits: z.int(),
      differing: z.int().describe('Visits whose stored row is not what is computed anew.'),
      astray: z.int().describe('Rows of visits that are not there, and counts that do not fit the rows.'),
      astrayPieces: z
        .int()
        .describe('Pieces of words that a search finds for more or fewer visits than have them.'),
      rebuilt: z.boolean(),
    }),
  },
  'care.trail': {
    request: z.object({
      before: z
        .int()
        .positive()
        .optional()
        .describe('Entries with a lower number than this; absent: the latest.'),
      limit: z.int().min(1).max(1000).default(100),
    }),
    response: z.object({ entries: z.array(trailEntrySchema).describe('The latest first.') }),
  },
  'care.repeat': {
    request: z.object({ visitId }),
    response: z.object({
      repeats: z
        .array(
          z.object({
            assessmentId: z.int(),
            createdAt: z.string(),
            program: z.string().describe('What stored the result.'),
            programNow: z.string(),
            same: z.boolean().describe('The same bytes came out, of the result and of its picture.'),
            samePicture: z.boolean(),
            differences: z.int().describe('Values of the result that differ.'),
            greatest: z.array(
              z.object({
                path: z.string(),
                stored: z.unknown(),
                now: z.unknown(),
                relative: z.number().nullable(),
              }),
            ),
          }),
        )
        .describe('Every stored assessment of the visit, run again from what is stored.'),
    }),
  },
  'care.backUp': {
    request: z.object({}),
    response: z.object({
      path: z.string(),
      bytes: z.number(),
      lastEntry: z.int(),
      removed: words.describe('Older backups that were removed for it.'),
    }),
  },
};
