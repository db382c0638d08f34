import { z } from 'zod';

/** What a relation may predict strength from. A frequency is scaled to a speed by the pole's geometry: f L^2 / d. */
export const PREDICTORS = [
  'modulus',
  'specificModulus',
  'frequency1',
  'frequency2',
  'frequency3',
  'circumference',
  'fixity',
  'age',
  'moisture',
] as const;

export type PredictorName = (typeof PREDICTORS)[number];

/** Properties of a pole that are names, not numbers. */
export const FACTORS = ['species', 'treatment'] as const;

export type FactorName = (typeof FACTORS)[number];

const groupingSchema = z
  .enum(['none', 'fixed', 'pooled'])
  .describe(
    'none: groups are taken together. fixed: each group has a level of its own. pooled: levels are drawn towards ' +
      'their mean, the more so the fewer tests a group has.',
  );

/** How strength is to be predicted from what is measured: the choices of an engineer, before any fit. */
export const relationSpecSchema = z.strictObject({
  response: z
    .enum(['groundlineStress', 'modulusOfRupture'])
    .describe(
      'groundlineStress: moment at ground line over the section modulus there, whatever broke first; times the section ' +
        'modulus of another pole it is that pole’s capacity. modulusOfRupture: stress where it broke, of the wood; it ' +
        'overstates the capacity of poles that break above ground line.',
    ),
  form: z
    .enum(['linear', 'log-linear'])
    .describe(
      'linear: strength from the predictors as they are. log-linear: the logarithm of strength from the logarithms of ' +
        'predictors, age and moisture as they are.',
    ),
  predictors: z.array(z.enum(PREDICTORS)).readonly(),
  species: groupingSchema,
  treatment: groupingSchema,
  estimator: z
    .enum(['ordinary', 'weighted', 'robust'])
    .describe(
      'ordinary: least squares. weighted: by the weights of the rows. robust: tests far off the rest count less.',
    ),
  modulusError: z
    .enum(['ignored', 'acknowledged'])
    .describe(
      'acknowledged: the slope on the modulus is corrected for the error in it, and the error of the pole at hand enters.',
    ),
});

export type RelationSpec = Readonly<z.infer<typeof relationSpecSchema>>;
