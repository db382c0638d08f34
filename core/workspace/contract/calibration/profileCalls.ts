import { z } from 'zod';
import { requirementProfileSchema } from '../../../recording/visitFile.ts';
import { key, person } from './common.ts';

/** What lines ask of their poles: profiles kept by name and version, and which poles are compared with which. */
export const profileCalls = {
  'profiles.list': {
    request: z.object({}),
    response: z.object({
      profiles: z
        .array(
          z.object({
            profileId: key,
            name: z.string(),
            number: z.int(),
            author: z.string(),
            keptAt: z.string(),
            profile: requirementProfileSchema,
            poles: z.int().describe('Compared with it from their next result on.'),
          }),
        )
        .describe('Newest first; every version is there.'),
    }),
  },
  'profiles.keep': {
    request: z.object({ profile: requirementProfileSchema, author: person }),
    response: z.object({ profileId: key, number: z.int() }),
  },
  'profiles.choose': {
    request: z.object({
      profileId: key.nullable().describe('null: the class of the pole again.'),
      poleIds: z.array(z.string()).min(1).max(30_000),
      chosenBy: person,
    }),
    response: z.object({ poles: z.int() }),
  },
};
