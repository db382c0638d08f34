import { z } from 'zod';
import { visitId } from './common.ts';
import { registerQuerySchema } from './registerCalls.ts';

/** Visits named one by one in a request; more than that are asked for by a query. */
const MOST_NAMED = 2000;

/** What goes out of the workspace to be read elsewhere. */
export const reportCalls = {
  'reports.make': {
    request: z.object({
      subject: z.union([
        z.strictObject({ visitIds: z.array(visitId).min(1).max(MOST_NAMED) }),
        z.strictObject({ query: registerQuerySchema }),
      ]),
      format: z
        .enum(['html', 'pdf', 'csv', 'parquet', 'geojson', 'json'])
        .describe(
          'html, pdf: the printed file; csv, parquet: a row a visit; geojson: a point a pole; json: whole results and rulings.',
        ),
    }),
    response: z.object({
      fileName: z.string(),
      mediaType: z.string(),
      base64: z.string(),
      visits: z.int().describe('Visits in the file.'),
      leftOut: z
        .array(z.object({ poleId: z.string(), date: z.string(), reason: z.string() }))
        .describe('Visits that were asked for and have no place in this kind of file.'),
    }),
  },
};
