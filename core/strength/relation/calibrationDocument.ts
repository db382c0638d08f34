import { z } from 'zod';
import { breakTestRowSchema } from './breakTestRow.ts';
import { FACTORS, PREDICTORS, relationSpecSchema } from './relationSpec.ts';
import { NOT_JUDGED, type Weakness, weaknessSchema } from './weakness.ts';

const number = z.number();
const matrixSchema = z.array(z.array(number));
const variance = number.min(0);
const text = z.string().max(4000);

/** A linear combination: `intercept`, a predictor's name, or `species:southern-pine` for the level of a group. */
const termsSchema = z.array(z.string());

const groupSchema = z.strictObject({
  factor: z.enum(FACTORS),
  treatedAs: z.enum(['fixed', 'pooled']),
  levels: z.array(
    z.strictObject({
      level: z.string(),
      poles: z.int().min(1),
      effect: number.describe('On the scale of the fit; 0 for the level that fixed ones are compared with.'),
    }),
  ),
  variance: variance.nullable().describe('Between groups, on the scale of the fit; null where not pooled.'),
  newGroupVariance: variance
    .nullable()
    .describe(
      'Of a group that was not tested: with what the tests leave open of the variance; null where not pooled.',
    ),
});

/** Numbers of a fitted relation, on its own scale: ln of strength in Pa, or strength in Pa. */
const relationFitSchema = z.strictObject({
  terms: termsSchema,
  coefficients: z.array(number),
  covariance: matrixSchema.describe('Of the coefficients, in the order of the terms.'),
  residualScale: variance.describe('Standard deviation of one pole about the relation.'),
  degreesOfFreedom: number.positive(),
  groups: z.array(groupSchema),
  testsModulusLogSd: variance
    .nullable()
    .describe(
      'Standard deviation of the error of ln modulus, median over the tests that state it; null where none does or no predictor carries it.',
    ),
  modulusError: z
    .strictObject({
      terms: termsSchema,
      coefficients: z.array(number),
      polesVariance: variance.describe('Of the true modulus between poles alike in the other terms.'),
      groupVariance: variance.describe('Added for a pole of a group that was not tested.'),
      remainingVariance: variance.describe('Of the true modulus given its measurement, mean over the tests.'),
    })
    .nullable()
    .describe('How the modulus is told from its measurement; null where its error is ignored.'),
  notes: z.array(z.string()).describe('What a reader must know of this fit, in plain sentences.'),
});

/** Where the relation was tested. */
const validityRangeSchema = z.strictObject({
  poles: z.int().min(1),
  piece: z.enum(['pole', 'specimen']).describe('What the tests broke.'),
  predictors: z.array(z.strictObject({ name: z.enum(PREDICTORS), mean: number, min: number, max: number })),
  inverseCovariance: matrixSchema.describe('Of the predictors on the scale of the fit.'),
  distanceLimit: z
    .number()
    .positive()
    .nullable()
    .describe(
      'One pole in a hundred of the tested kind lies farther from the mean; null without predictors.',
    ),
  conditions: z
    .array(z.strictObject({ name: z.enum(PREDICTORS), min: number, max: number }))
    .describe('What the tested poles spanned in properties that the relation does not use.'),
});

/** A calibration as one file: who published what, the relation, and the tests it came from. */
export const calibrationDocumentSchema = z.strictObject({
  format: z.literal('stemroot-calibration'),
  version: z.union([z.literal(1), z.literal(2)]).describe('Of this format; the second has weaknesses.'),
  name: z
    .string()
    .max(60)
    .regex(/^[a-z0-9][a-z0-9-]*$/, 'expected small letters, digits and hyphens'),
  number: z.int().min(1).describe('Version of the calibration; a published one never changes.'),
  author: text.min(1),
  note: text,
  publishedAt: z.iso.datetime(),
  spec: relationSpecSchema,
  relation: relationFitSchema,
  range: validityRangeSchema,
  weaknesses: z
    .array(weaknessSchema)
    .optional()
    .describe(
      'What speaks against the relation, found when it was published; version 2 has it, be it empty.',
    ),
  rows: z.array(breakTestRowSchema).min(1).describe('The tests that the relation was fitted to.'),
  dataSha256: z
    .string()
    .regex(/^[0-9a-f]{64}$/)
    .describe('Of the rows as canonical JSON (RFC 8785).'),
});

export type RelationFit = Readonly<z.infer<typeof relationFitSchema>>;
export type ValidityRange = Readonly<z.infer<typeof validityRangeSchema>>;
export type CalibrationDocument = Readonly<z.infer<typeof calibrationDocumentSchema>>;

/** What speaks against a published relation: as it says itself, or that nobody asked. */
export function weaknessesOf({ version, weaknesses }: CalibrationDocument): readonly Weakness[] {
  return version === 1 || !weaknesses ? [NOT_JUDGED] : weaknesses;
}
