import { z } from 'zod';

/** Some hundred steps back on one bench, and a good deal more. */
const LONGEST_CHOICES = 512 * 1024;
const MOST_NAMES = 50;

const name = z.string().regex(/^[a-z]+(\/[\w-]+)?$/, 'lower-case letters, and a part behind a slash');

/** What a window keeps of its own from one start to the next: saved views, and work under way. It is no evidence. */
export const choiceCalls = {
  'choices.keep': {
    request: z.object({
      name,
      choices: z.json().refine((value) => JSON.stringify(value).length <= LONGEST_CHOICES, {
        message: `expected at most ${LONGEST_CHOICES} characters of JSON`,
      }),
    }),
    response: z.object({ keptAt: z.string() }),
  },
  'choices.recall': {
    request: z.object({ names: z.array(name).min(1).max(MOST_NAMES) }),
    response: z.object({
      choices: z
        .record(z.string(), z.json())
        .describe('By name; names under which nothing is kept are left out.'),
    }),
  },
};
