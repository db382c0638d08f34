import { z } from 'zod';
import { assessmentSchema, pickDecisionSchema, stemRootPictureSchema } from '../assessment.ts';
import { visitFileSchema } from '../recording/visitFile.ts';

/**
 * Every call that a window or the command line may make: name -> request and response schema.
 * The bridge of Electron, the loopback host and their types all derive from this one map.
 */

const visitId = z.int().positive();
const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
const numbers = z.array(z.number());

/** What an analyst may decide about a pole. */
export const DECISIONS = [
  'keep',
  'watch',
  'measure again',
  'excavate and bore',
  'replace or restore',
] as const;

const rulingSchema = z.object({
  rulingId: z.int(),
  decidedAt: z.string(),
  analyst: z.string(),
  decision: z.enum(DECISIONS),
  reason: z.string(),
  assessmentId: z.int().nullable(),
});

const registerRowSchema = z.object({
  visitId,
  poleId: z.string(),
  species: z.string(),
  classCode: z.string().nullable(),
  lengthM: z.number(),
  date: z.string(),
  verdict: z.enum(['assessed', 'withheld', 'failed', 'not assessed']),
  frequenciesHz: z
    .array(z.number().nullable())
    .describe('Modes 1 to 3, mean over planes; null where missing.'),
  modulusPa: z.number().nullable(),
  fixity: z.number().nullable(),
  identifiability: z.string().nullable(),
  capacityNm: z.object({ value: z.number(), low: z.number(), high: z.number() }).nullable(),
  requirementNm: z.number().nullable(),
  chanceBelow: z.number().nullable(),
  findings: z.array(z.object({ id: z.string(), text: z.string() })),
  ruling: rulingSchema.nullable().describe('The latest.'),
});

const recordingInfoSchema = z.object({
  index: z.int(),
  file: z.string(),
  sha256,
  exciter: z.enum(['hammer', 'hand', 'unknown']),
  sampleRateHz: z.number(),
  durationS: z.number(),
  azimuthsDeg: numbers,
  warnings: z.array(z.string()),
});

const benchSchema = z.object({
  visitId,
  visit: visitFileSchema,
  recordings: z.array(recordingInfoSchema),
  decisions: z.array(pickDecisionSchema).describe('The picks last saved for this visit.'),
  assessmentId: z.int().nullable().describe('The stored assessment; null where none is stored.'),
  assessment: assessmentSchema.nullable(),
  failure: z.object({ code: z.string(), message: z.string(), hint: z.string() }).nullable(),
  picture: stemRootPictureSchema.nullable(),
  rulings: z.array(rulingSchema),
});

const measured = z.object({ value: z.number(), sd: z.number() });

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

const channelTrace = z.object({
  azimuthDeg: z.number(),
  low: numbers,
  high: numbers,
});

const uploadedFile = z.object({ name: z.string().min(1).max(255), base64: z.string() });

const importOutcome = z.object({
  file: z.string(),
  visitId: visitId.nullable(),
  poleId: z.string().nullable(),
  status: z.enum(['imported', 'already there', 'failed']),
  error: z.object({ code: z.string(), message: z.string(), hint: z.string() }).nullable(),
});

export const contract = {
  'workspace.describe': {
    request: z.object({}),
    response: z.object({
      name: z.string(),
      program: z.string(),
      visits: z.int(),
      poles: z.int(),
      notAssessed: z.int(),
      cautions: z.array(z.string()),
    }),
  },
  'register.list': {
    request: z.object({}),
    response: z.object({ rows: z.array(registerRowSchema) }),
  },
  'visits.import': {
    request: z
      .object({ files: z.array(uploadedFile).max(2000) })
      .describe('Visit files and their recordings.'),
    response: z.object({ outcomes: z.array(importOutcome) }),
  },
  'visit.open': {
    request: z.object({ visitId }),
    response: benchSchema,
  },
  'visit.tryPicks': {
    request: z.object({ visitId, decisions: z.array(pickDecisionSchema).max(64) }),
    response: z.object({ assessment: assessmentSchema, picture: stemRootPictureSchema.nullable() }),
  },
  'visit.assess': {
    request: z.object({ visitId, decisions: z.array(pickDecisionSchema).max(64) }),
    response: z.object({
      assessmentId: z.int(),
      assessment: assessmentSchema,
      picture: stemRootPictureSchema.nullable(),
    }),
  },
  'visit.whatIf': {
    request: z.object({
      visitId,
      decisions: z.array(pickDecisionSchema).max(64),
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
    request: z.object({ visitId }),
    response: stabilisationSchema,
  },
  'visit.rule': {
    request: z.object({
      visitId,
      assessmentId: z
        .int()
        .positive()
        .nullable()
        .describe('The result that the ruling is about; null: none was stored.'),
      analyst: z.string().trim().min(1).max(120),
      decision: rulingSchema.shape.decision,
      reason: z.string().trim().min(1).max(4000),
    }),
    response: rulingSchema,
  },
  'visit.report': {
    request: z.object({ visitId }),
    response: z.object({ fileName: z.string(), html: z.string() }),
  },
  'recording.waveform': {
    request: z.object({
      visitId,
      recording: z.int().min(0),
      fromS: z.number().min(0).optional(),
      toS: z.number().positive().optional(),
      columns: z.int().min(16).max(8000).default(1600),
    }),
    response: z.object({
      fromS: z.number(),
      toS: z.number(),
      unit: z.literal('m/s2'),
      fullScaleMPerS2: z.number().nullable(),
      timesS: numbers.describe('Middle of each column.'),
      channels: z.array(channelTrace),
    }),
  },
  'recording.spectrum': {
    request: z.object({
      visitId,
      recording: z.int().min(0),
      strike: z
        .union([z.int().min(0), z.literal('combined')])
        .nullable()
        .describe(
          'Index among the strikes of this recording; "combined": mean power over all that can be used; null: all of the recording.',
        ),
      kind: z
        .enum(['amplitude', 'psd', 'multitaper'])
        .default('amplitude')
        .describe('psd: by Welch, or over a whole strike; multitaper: by sine tapers over the whole length.'),
      maximumHz: z.number().positive().max(24000).default(80),
      zoom: z
        .object({ fromHz: z.number().min(0), toHz: z.number().positive() })
        .optional()
        .describe('Range shown instead of 0 to maximumHz; amplitudes are drawn with many lines over it.'),
    }),
    response: z.object({
      unit: z.enum(['m/s2', '(m/s2)2/Hz']),
      window: z.string(),
      noiseBandwidthHz: z.number(),
      strikes: z.int().describe('Strikes that the spectrum combines; 0 for all of the recording.'),
      frequenciesHz: numbers,
      channels: z.array(z.object({ azimuthDeg: z.number(), values: numbers })),
    }),
  },
  'recording.spectrogram': {
    request: z.object({
      visitId,
      recording: z.int().min(0),
      channel: z.int().min(0),
      maximumHz: z.number().positive().max(24000).default(80),
      frequencyScale: z
        .enum(['linear', 'log'])
        .default('linear')
        .describe('log: lines evenly spaced in the logarithm, from 0.5 Hz on.'),
    }),
    response: z.object({
      unit: z.literal('dB re 1 (m/s2)2/Hz'),
      timesS: numbers,
      frequenciesHz: numbers,
      values: z.array(numbers).describe('values[i][j] at frequenciesHz[i], timesS[j].'),
    }),
  },
} as const satisfies Record<string, { request: z.ZodType; response: z.ZodType }>;

export type CallName = keyof typeof contract;
export type CallRequest<N extends CallName> = z.input<(typeof contract)[N]['request']>;
export type CallResponse<N extends CallName> = z.output<(typeof contract)[N]['response']>;
export type CallAnswer<N extends CallName> =
  | { ok: true; value: CallResponse<N> }
  | { ok: false; code: string; message: string; hint: string };

export type Ruling = z.infer<typeof rulingSchema>;
export type RegisterRow = z.infer<typeof registerRowSchema>;
export type Bench = z.infer<typeof benchSchema>;
