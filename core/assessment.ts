import { z } from 'zod';

/**
 * The result of one run of the chain over a visit, as printed (one JSON object a line), stored and shown.
 * Every number is SI; every estimate carries its interval. Field names are part of the command line's contract.
 */

const estimateSchema = z.object({
  value: z.number().describe('Median.'),
  low: z.number(),
  high: z.number(),
  level: z.number().describe('Chance that the interval holds the truth, for instance 0.9.'),
});

const measuredValueSchema = z.object({ value: z.number(), sd: z.number() });

const VERDICTS_OF_CHECKS = ['use', 'use with care', 'repeat'] as const;

const checkSchema = z.object({
  id: z.string(),
  verdict: z.enum(VERDICTS_OF_CHECKS),
  value: z.number().nullable(),
  limit: z.number().nullable(),
  unit: z.string(),
  text: z.string().describe('What is wrong, in a plain sentence; empty where nothing is.'),
  advice: z.string().describe('What to do next time; empty where nothing is wrong.'),
});

const strikeSchema = z.object({
  recording: z.string(),
  exciter: z.enum(['hammer', 'hand', 'unknown']),
  startS: z.number(),
  endS: z.number().describe('End of the ring-down that is analysed.'),
  contactS: z
    .number()
    .nullable()
    .default(null)
    .describe('Estimated time of contact, good to half as much again; null where it cannot be told.'),
  litToHz: z
    .number()
    .nullable()
    .default(null)
    .describe('The early response is within 10 dB of its strongest band up to here; null where unknown.'),
  verdict: z.enum(VERDICTS_OF_CHECKS),
  overruled: z
    .object({ use: z.boolean(), reason: z.string() })
    .optional()
    .describe('An analyst had the strike count, or left it out, whatever its verdict.'),
  checks: z.array(checkSchema),
});

const modeSchema = z.object({
  plane: z.int().describe('Index of the bending plane, in the order of the channels of the first recording.'),
  azimuthDeg: z.number(),
  number: z.int().describe('1 is the lowest bending mode.'),
  frequencyHz: measuredValueSchema,
  dampingRatio: measuredValueSchema,
  source: z.enum(['proposed', 'analyst']),
  status: z.enum(['candidate', 'confirmed']),
  predictedHz: z.number().nullable().describe('By the fitted stem and root; null where nothing was fitted.'),
  residual: z.number().nullable().describe('(measured - predicted) over their joint standard deviation.'),
  oddChance: z.number().nullable().describe('Chance that this pick does not belong to the model.'),
  strikes: z.int(),
  rank: z
    .int()
    .nullable()
    .optional()
    .describe('1 is the most certain of the proposed; null for one set by hand.'),
  reason: z.string(),
});

const missingModeSchema = z.object({
  plane: z.int(),
  number: z.int(),
  reason: z.string().describe('What was looked at, and why nothing was taken.'),
});

const peakSchema = z.object({
  plane: z.int(),
  azimuthDeg: z.number(),
  frequencyHz: z.number(),
  prominenceDb: z.number(),
  reason: z.string().describe('Why this peak is no mode pick.'),
});

const stemSchema = z.object({
  modulusPa: estimateSchema.describe('Modulus of elasticity of the pole above ground.'),
  lnModulus: z
    .object({ mean: z.number(), sd: z.number() })
    .optional()
    .describe('Of its natural logarithm, in Pa; absent in results of earlier programs.'),
  densityKgPerM3: estimateSchema,
  priorModulusPa: estimateSchema,
});

const rootSchema = z.object({
  model: z.enum(['spring', 'coupled', 'bedded']),
  chosenBecause: z.string(),
  models: z
    .array(z.object({ model: z.enum(['spring', 'coupled', 'bedded']), probability: z.number() }))
    .describe('Root models that the result is averaged over, most probable first.'),
  rotationalStiffnessNmPerRad: estimateSchema,
  fixity: estimateSchema.describe('k_theta L / (E I_groundline).'),
  fixityMapped: estimateSchema.describe('fixity / (fixity + 1), 0 loose to 1 rigid.'),
  settingDepthM: estimateSchema.nullable(),
  soilModulus: estimateSchema
    .extend({ unit: z.enum(['N/m3', 'N/m2']) })
    .nullable()
    .describe('Of a bedded root: n_h (N/m3) in sand, k (N/m2) in clay.'),
  expectedRotationalStiffnessNmPerRad: estimateSchema
    .nullable()
    .describe('From soil and setting depth alone.'),
  softRootChance: z.number().nullable(),
});

const priorSchema = z.object({
  name: z.string(),
  median: z.number(),
  low: z.number().describe('5 % quantile.'),
  high: z.number().describe('95 % quantile.'),
  unit: z.string(),
  source: z.string(),
  spread: z
    .object({ of: z.enum(['ln', 'value']), sd: z.number() })
    .optional()
    .describe(
      'Standard deviation, of the natural logarithm or in the unit; absent in results of earlier programs.',
    ),
  setBy: z.string().optional().describe('Field of the visit file that sets it.'),
  isGiven: z.boolean().optional().describe('Whether that field was set in this visit.'),
});

const identifiabilitySchema = z.object({
  stem: z.number().describe('1 - posterior width / prior width of ln E.'),
  root: z.number().describe('The same of ln k_theta.'),
  verdict: z.enum(['separated', 'one-sided', 'not separated']),
  advice: z.string(),
  nextMeasurements: z
    .array(
      z.object({
        id: z.string(),
        text: z.string(),
        stemNarrowing: z.number().describe('Expected 1 - new width / present width of ln E.'),
        rootNarrowing: z.number().describe('The same of ln k_theta.'),
      }),
    )
    .describe('What would tell more, best first.'),
});

const furtherDatumSchema = z.object({
  name: z.string(),
  measured: z.number().describe('A ratio of motions, or ln of deflection over force (m/N).'),
  predicted: z.number(),
  residual: z.number().describe('(measured - predicted) over its standard deviation, model error included.'),
  oddChance: z.number(),
});

const strengthSchema = z.object({
  calibration: z.string().describe('name@version'),
  modulusOfRupturePa: estimateSchema,
  sectionModulusM3: z.number(),
  groundlineMomentNm: estimateSchema,
  lower5PercentNm: z.number(),
  tolerance: z
    .object({
      content: z.number().describe('Share of poles like this one that is stronger.'),
      confidence: z.number().describe('Chance, over repeated series of break tests, that this holds.'),
      groundlineMomentNm: z.number(),
    })
    .nullable()
    .optional()
    .describe(
      'Lower tolerance limit; null under a calibration without tests; absent in results of earlier programs.',
    ),
  assumes: z.string().describe('What must hold for the capacity to mean anything.'),
  because: z
    .array(z.string())
    .optional()
    .describe('What moved the estimate; absent in results of earlier programs.'),
  warnings: z.array(z.string()),
});

export const requirementItemSchema = z.object({
  name: z.string(),
  kind: z.enum(['class', 'wind', 'tension', 'weight']),
  loadN: z.number(),
  armM: z.number().describe('Height above ground line; of a weight its distance from the pole’s axis.'),
  momentNm: z.number().describe('loadN times armM.'),
  factor: z.number().describe('Load factor over strength factor.'),
  requiredMomentNm: z.number().describe('momentNm times factor.'),
});

const requirementSchema = z.object({
  groundlineMomentNm: z.number(),
  chanceBelow: z.number().nullable().describe('Chance that the capacity is below groundlineMomentNm.'),
  ruleFactor: z.number(),
  thresholdMomentNm: z.number().describe('groundlineMomentNm times ruleFactor.'),
  chanceBelowThreshold: z.number().nullable(),
  source: z.string(),
  ruleSource: z.string(),
  items: z
    .array(requirementItemSchema)
    .readonly()
    .optional()
    .describe('Loads that the moment is the sum of; absent where it was given as a number.'),
});

const alternativeSchema = z.object({
  probability: z.number(),
  numbers: z.array(z.object({ plane: z.int(), frequencyHz: z.number(), number: z.int().nullable() })),
});

export const findingSchema = z.object({
  id: z.string(),
  text: z.string(),
  modes: z
    .array(z.object({ plane: z.int(), number: z.int() }))
    .optional()
    .describe(
      'The picks that it is about; absent where it is about none, and in results of earlier programs.',
    ),
  advice: z
    .string()
    .optional()
    .describe('What to do before a strength is told; only of findings that withhold it.'),
});

export const assessmentSchema = z.object({
  visit: z.string(),
  poleId: z.string(),
  verdict: z.enum(['assessed', 'withheld', 'failed']),
  withheldBecause: z.string().nullable(),
  withheldBy: z
    .enum(['chain', 'calibration'])
    .nullable()
    .optional()
    .describe(
      'chain: stem and root are not told, and no calibration gives a strength. calibration: this one cannot speak of the pole; another ' +
        'may. Absent in results of earlier programs.',
    ),
  priors: z.array(priorSchema).describe('What was taken as known before the recordings.'),
  strikes: z.array(strikeSchema),
  recordingWarnings: z
    .array(z.object({ recording: z.string(), code: z.string(), text: z.string() }))
    .describe('What was odd about the files, and mended.'),
  recordingChecks: z.array(checkSchema).describe('Checks over several strikes: repeatability.'),
  modes: z.array(modeSchema),
  otherPeaks: z.array(peakSchema),
  missingModes: z
    .array(missingModeSchema)
    .optional()
    .describe('Modes 1 to 3 that the strikes do not show; absent in results of earlier programs.'),
  furtherData: z
    .array(furtherDatumSchema)
    .describe('Mode-shape ratios and static pull that entered the fit.'),
  assignments: z.array(alternativeSchema).describe('Most probable first: the one in use, then its rivals.'),
  stem: stemSchema.nullable(),
  root: rootSchema.nullable(),
  identifiability: identifiabilitySchema.nullable(),
  strength: strengthSchema.nullable(),
  requirement: requirementSchema.nullable(),
  findings: z.array(findingSchema),
  cautions: z.array(z.string()),
  provenance: z.object({
    program: z.string(),
    inputsSha256: z.string(),
    seed: z.int(),
  }),
});

export const failureSchema = z.object({
  visit: z.string(),
  poleId: z.string().nullable(),
  verdict: z.literal('failed'),
  error: z.object({ code: z.string(), message: z.string(), hint: z.string() }),
});

export type Assessment = z.infer<typeof assessmentSchema>;
export type AssessmentFailure = z.infer<typeof failureSchema>;
export type AssessedMode = Assessment['modes'][number];
export type AssessedStrike = Assessment['strikes'][number];
export type CheckResult = z.infer<typeof checkSchema>;
export type Estimate = z.infer<typeof estimateSchema>;

/** The stem-against-root picture: posterior density over ln-spaced axes, scaled so that its peak is 1. */
export const stemRootPictureSchema = z.object({
  modulusPa: z.array(z.number()),
  fixity: z.array(z.number()),
  density: z.array(z.array(z.number())).describe('density[i][j] at fixity[i], modulusPa[j]; peak 1.'),
  credibleLevels: z.array(
    z.object({
      probability: z.number(),
      density: z.number().describe('Contour that holds this probability.'),
    }),
  ),
  requiredModulusPa: z
    .number()
    .nullable()
    .describe('Stem modulus at which the median capacity meets the requirement; null without one.'),
  classRange: z
    .object({ modulusPa: z.tuple([z.number(), z.number()]), fixity: z.tuple([z.number(), z.number()]) })
    .describe('Usual 90 % range of this species, soil and depth before any recording: the prior.'),
});
export type StemRootPicture = z.infer<typeof stemRootPictureSchema>;
