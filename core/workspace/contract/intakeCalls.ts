import { z } from 'zod';
import { answersSchema, habitsSchema, UNIT_SYSTEMS } from '../../intake/index.ts';
import { numbers, sha256 } from './common.ts';
import { importOutcome } from './registerCalls.ts';

const draft = z
  .string()
  .regex(/^[a-z0-9-]{1,40}$/, 'lower-case letters, digits and dashes')
  .describe('Name of a visit that is being written down.');
const units = z.enum(UNIT_SYSTEMS);
const unitsOfForm = units.describe('That sentences are written in.');

const attachedSchema = z.object({
  file: z.string(),
  sha256,
  channels: z.int(),
  needsFullScale: z.boolean(),
  sampleRateHz: z.number(),
  durationS: z.number(),
  unit: z.enum(['full scale', 'm/s2']),
  warnings: z.array(z.string()),
  peaks: numbers.describe('Greatest sample of each channel, either way, in the unit of the file.'),
});

const problem = z.object({
  field: z.string().describe('Path of the answer.'),
  level: z.enum(['wrong', 'odd']),
  words: z.string(),
});

/**
 * A visit written down by hand: answers are kept by whoever asks, as choices; the recordings attached to them by the
 * workspace, until the visit is brought in or given up.
 */
export const intakeCalls = {
  'intake.begin': {
    request: z.object({ units, habits: habitsSchema.default({}) }),
    response: z.object({
      answers: answersSchema,
      rows: z
        .object({
          circumferences: answersSchema.shape.circumferences.element,
          cables: answersSchema.shape.cables.element,
          attachments: answersSchema.shape.attachments.element,
        })
        .describe('Rows that can be added.'),
    }),
  },
  'intake.attach': {
    request: z.object({
      draft,
      units,
      habits: habitsSchema.default({}),
      file: z.object({ name: z.string().min(1).max(255), base64: z.string() }),
    }),
    response: z.object({
      attached: attachedSchema,
      answers: answersSchema.shape.recordings.element.describe('To begin with.'),
    }),
  },
  'intake.attached': {
    request: z.object({ draft }),
    response: z.object({ recordings: z.array(attachedSchema) }),
  },
  'intake.detach': { request: z.object({ draft, file: z.string() }), response: z.object({}) },
  'intake.check': {
    request: z.object({ draft, units: unitsOfForm, answers: answersSchema }),
    response: z.object({
      problems: z.array(problem),
      echoes: z
        .array(z.object({ field: z.string(), words: z.string() }))
        .describe('Values in SI, and in the units of the form.'),
      ready: z.boolean(),
    }),
  },
  'intake.write': {
    request: z.object({ draft, units: unitsOfForm, answers: answersSchema }),
    response: z.object({ fileName: z.string(), text: z.string() }),
  },
  'intake.finish': {
    request: z.object({ draft, units: unitsOfForm, answers: answersSchema }),
    response: z.object({ outcome: importOutcome, habits: habitsSchema }),
  },
  'intake.giveUp': { request: z.object({ draft }), response: z.object({}) },
};
