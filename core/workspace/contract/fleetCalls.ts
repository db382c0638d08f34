import { z } from 'zod';

/** How far the work is that several machines share. */
export const fleetCalls = {
  'fleet.progress': {
    request: z.object({}),
    response: z.object({
      fleet: z
        .object({
          visits: z.int(),
          withoutResult: z.int(),
          waiting: z.int(),
          toRetry: z.int(),
          inWork: z.int(),
          givenUp: z.int().describe('Failed as often as they may, and have no result from elsewhere since.'),
          visitsAnHour: z.number().nullable().describe('By the last minutes; null where nothing was done.'),
          secondsLeft: z.number().nullable(),
        })
        .nullable()
        .describe('Null for a workspace file, and for a team store where nothing was ever enqueued.'),
    }),
  },
};
