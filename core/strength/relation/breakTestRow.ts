import { z } from 'zod';
import { SPECIES } from '../../recording/visitFile.ts';

/** Natural frequencies of modes 1 to 3. */
const MODES = 3;

const positive = z.number().positive();
const text = z
  .string()
  .max(80)
  .regex(/^\P{Cc}*$/u, 'control characters are not allowed');

/**
 * One pole broken on purpose, reduced to what a relation is fitted to: what was measured before, and what broke it.
 * Null stands for "not measured"; a relation leaves out rows that lack a predictor of its own, and says which.
 */
export const breakTestRowSchema = z.strictObject({
  id: text.min(1).describe('Of the test; no other row has it.'),
  poleId: text.min(1).describe('Tests of one pole are never parted between fit and check.'),
  species: z.enum(SPECIES),
  treatment: text.nullable(),
  modulusPa: positive
    .nullable()
    .describe(
      'Modulus of elasticity as it was measured, without what was known of the species before; an assessment’s ' +
        'modulus goes through separateMeasurement first.',
    ),
  modulusLogSd: z
    .number()
    .min(0)
    .nullable()
    .describe('Standard deviation of the error of ln modulus: its own interval. Null: not stated.'),
  densityKgPerM3: positive.nullable(),
  frequenciesHz: z
    .array(positive.nullable())
    .length(MODES)
    .describe('Modes 1 to 3, without cables and attachments.'),
  stemLengthM: positive
    .nullable()
    .describe('From ground line, or the support that stood for it, to the tip.'),
  circumferenceM: positive.describe('At ground line, outer.'),
  fixity: positive.nullable().describe('Rotational stiffness of the root over E I / L of the stem.'),
  ageYears: z.number().min(0).nullable().describe('Years in the ground.'),
  moisturePercent: z.number().min(0).nullable().describe('On oven-dry mass.'),
  weight: positive
    .nullable()
    .describe(
      'Precision of this test against the others, used by a weighted fit alone; only ratios count. Null: as the mean of the others.',
    ),
  piece: z
    .enum(['pole', 'specimen'])
    .describe('What was broken: a whole pole, or a specimen cut from one, which is stronger.'),
  modulusOfRupturePa: positive.describe('Bending stress where it broke, at the load that broke it.'),
  groundlineMomentNm: positive.describe('Moment at ground line at the load that broke it.'),
});

export type BreakTestRow = Readonly<z.infer<typeof breakTestRowSchema>>;
