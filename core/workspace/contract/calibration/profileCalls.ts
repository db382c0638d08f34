import { z } from 'zod';
import { requirementItemSchema } from '../../../assessment.ts';
import { requirementProfileSchema } from '../../../recording/visitFile.ts';
import { key, person } from './common.ts';

const sourced = z.object({ name: z.string(), source: z.string() });
const length = z.number().positive().max(60);

/** What lines ask of their poles: profiles kept by name and version, and which poles are compared with which. */
export const profileCalls = {
  'profiles.list': {
    request: z.object({}),
    response: z.object({
      lastChoice: z.int().min(0).describe('Grows with every choice of a profile for a pole.'),
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
  'profiles.settings': {
    request: z.object({}),
    response: z.object({
      winds: z.array(
        sourced.extend({
          pressurePa: z.number(),
          flatPressurePa: z.number(),
          iceThicknessM: z.number(),
          status: z.string().describe('How far it was checked: read, secondary, memory, assumed.'),
        }),
      ),
      loadFactors: z.array(
        sourced.extend({
          wind: z.number(),
          tension: z.number(),
          weight: z.number(),
          strength: z.number(),
          status: z.string(),
        }),
      ),
      rules: z.array(sourced.extend({ factor: z.number() })),
      classes: z.array(
        z.object({
          code: z.string(),
          loadN: z.number().describe('At 0.61 m (2 ft) below the tip.'),
          leastTipCircumferenceM: z.number(),
          status: z.string(),
          source: z.string(),
        }),
      ),
      fibreStresses: z.array(
        z.object({
          species: z.string(),
          meanPa: z.number().describe('Mean of groundline strength.'),
          status: z.string(),
          source: z.string(),
        }),
      ),
    }),
  },
  'profiles.try': {
    request: z.object({
      profile: requirementProfileSchema,
      pole: z.object({
        tipHeightM: length.describe('Above ground line.'),
        groundlineCircumferenceM: length,
        tipCircumferenceM: length,
      }),
    }),
    response: z.object({
      groundlineMomentNm: z.number(),
      thresholdMomentNm: z.number().describe('Times the share of the profile’s rule, or the moment itself.'),
      source: z.string(),
      items: z.array(requirementItemSchema),
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
      seenChoice: z
        .int()
        .min(0)
        .optional()
        .describe(
          'lastChoice of the list that was looked at. Where one of these poles got another since, nothing is stored.',
        ),
    }),
    response: z.object({ poles: z.int() }),
  },
};
