import { z } from 'zod';
import { assessmentSchema, findingSchema, stemRootPictureSchema } from '../../assessment.ts';
import { decisionsSchema } from '../../decisions.ts';
import { visitFileSchema } from '../../recording/visitFile.ts';
import { measured, numbers, problem, sha256, visitId } from './common.ts';
import { rulingSchema } from './ruling.ts';

const recordingInfoSchema = z.object({
  index: z.int(),
  file: z.string(),
  sha256,
  exciter: z.enum(['hammer', 'hand', 'unknown']),
  azimuthsDeg: numbers,
});

/** What is known of a recording only when it is read, which can take a tenth of a second or more. */
const readingSchema = z.object({
  sampleRateHz: z.number(),
  durationS: z.number(),
  warnings: z.array(z.string()),
});

export const benchSchema = z.object({
  visitId,
  visit: visitFileSchema,
  recordings: z.array(recordingInfoSchema),
  decisions: decisionsSchema.describe('Those of the assessment stored last.'),
  assessmentId: z.int().nullable().describe('The stored assessment; null where none is stored.'),
  assessment: assessmentSchema.nullable(),
  compared: z.array(findingSchema).describe('What is told of the visit beside the others of the workspace.'),
  failure: problem.nullable(),
  picture: stemRootPictureSchema.nullable(),
  rulings: z.array(rulingSchema),
});

/** What a pole keeps of one at the order below: nothing, its frequency, its damping too, its direction too. */
const poleStatus = z.enum(['new', 'frequency', 'damping', 'holds']);

const stabilisationSchema = z.object({
  orders: z.array(z.int()),
  planes: z.array(z.object({ azimuthDeg: z.number() })),
  turnDeg: measured.describe('From the axes of the sensor to the principal planes.'),
  poles: z.array(
    z.object({
      order: z.int().describe('Poles in the model of the band in which this one lies.'),
      frequencyHz: z.number(),
      dampingRatio: z.number(),
      status: poleStatus,
      planeShares: numbers.describe('Share of energy along each plane; 1 together.'),
    }),
  ),
  clusters: z.array(
    z.object({
      frequencyHz: z.number(),
      dampingRatio: z.number(),
      plane: z.int(),
      planeShares: numbers,
      orders: z.int().describe('Orders at which it stands.'),
      standing: z.number().describe('The same as a share of the orders from its first on.'),
      spreadHz: z.number(),
    }),
  ),
  indicator: z.object({
    frequenciesHz: numbers,
    planes: z.array(numbers).describe('dB re the highest, by plane.'),
  }),
  damping: z
    .array(
      z.object({
        plane: z.int(),
        frequencyHz: z.number(),
        fit: measured,
        decay: measured.nullable(),
        halfPower: z.number().nullable(),
      }),
    )
    .describe('Of each accepted mode: by its pole, by the slope of its decay, by the width of its peak.'),
});

/** One visit: its result, picks, ruling and report. */
export const visitCalls = {
  'visit.open': {
    request: z.object({ visitId }),
    response: benchSchema,
  },
  'visit.recordings': {
    request: z.object({ visitId }),
    response: z.object({ readings: z.array(readingSchema).describe('In the order of the visit file.') }),
  },
  'visit.tryPicks': {
    request: z.object({ visitId, decisions: decisionsSchema }),
    response: z.object({ assessment: assessmentSchema, picture: stemRootPictureSchema.nullable() }),
  },
  'visit.assess': {
    request: z.object({
      visitId,
      decisions: decisionsSchema,
      seenAssessmentId: z
        .int()
        .positive()
        .nullable()
        .optional()
        .describe(
          'The result that stood when the decisions were made; null: none. Where another stands, nothing is stored.',
        ),
      unlessThere: z
        .boolean()
        .optional()
        .describe('Store nothing where a result of the same inputs is stored; its identity is given then.'),
    }),
    response: z.object({
      assessmentId: z.int(),
      assessment: assessmentSchema,
      picture: stemRootPictureSchema.nullable(),
    }),
  },
  'visit.whatIf': {
    request: z.object({
      visitId,
      decisions: decisionsSchema,
      change: z.object({
        modulusPa: z.number().min(1e8).max(1e12).optional(),
        fixity: z.number().min(1e-3).max(1e5).optional(),
        cableFactor: z.number().min(0).max(1000).optional(),
        addedMass: z
          .object({ heightM: z.number().positive().max(60), massKg: z.number().min(0).max(5000) })
          .optional(),
        settingDepthM: z.number().positive().max(20).optional(),
      }),
      maximumHz: z.number().positive().max(500).default(80),
    }),
    response: z.object({
      frequenciesHz: numbers,
      planes: z.array(
        z.object({
          azimuthDeg: z.number(),
          fittedHz: numbers,
          changedHz: numbers,
          fittedResponse: numbers.describe('Shape of the response to a short blow; greatest value 1.'),
          changedResponse: numbers,
        }),
      ),
    }),
  },
  'visit.stabilisation': {
    request: z.object({ visitId, decisions: decisionsSchema.default([]) }),
    response: stabilisationSchema,
  },
};
