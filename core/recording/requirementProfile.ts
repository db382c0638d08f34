import { z } from 'zod';
import { lineOfText } from './lineOfText.ts';

const positive = z.number().positive();
const heightM = positive.max(60).describe('Above ground line, in m.');
const name = lineOfText(80).min(1);
const source = lineOfText(500).min(1);

/** Share of the requirement at which a code has the pole replaced or restored. */
const strengthLossRuleSchema = z.strictObject({ factor: positive.max(1), source });

const windSchema = z.strictObject({
  pressurePa: z.number().min(0).max(20_000).describe('On round surfaces: pole, conductors, round equipment.'),
  flatPressurePa: z.number().min(0).max(20_000).describe('On flat faces: more than on round ones.'),
  iceThicknessM: z
    .number()
    .min(0)
    .max(0.2)
    .default(0)
    .describe('Radial, on conductors while the wind blows.'),
  onPole: z.boolean().default(true).describe('Whether the wind on the pole’s own face counts.'),
  source,
});

const conductorSchema = z.strictObject({
  name,
  count: z.int().min(1).max(100).default(1).describe('Conductors alike, at the same height.'),
  heightM,
  diameterM: positive.max(0.5).describe('Bare of ice.'),
  windSpanM: z.number().min(0).max(2000).describe('Half of the span on either side, together.'),
  tensionN: z.number().min(0).max(1e6).nullish().describe('Of each, where the line turns at this pole.'),
  lineAngleDeg: z
    .number()
    .min(0)
    .max(120)
    .default(0)
    .describe('By how much the line turns at this pole; 0: straight on.'),
});

const equipmentSchema = z.strictObject({
  name,
  heightM: heightM.describe('Of the middle of its face above ground line, in m.'),
  areaM2: z.number().min(0).max(100).describe('Face that the wind meets.'),
  face: z.enum(['flat', 'round']).default('flat'),
  massKg: z.number().min(0).max(20_000).nullish(),
  offsetM: z
    .number()
    .min(0)
    .max(10)
    .nullish()
    .describe('From the pole’s axis to the centre of mass, to the side to which the wind pushes.'),
});

const forceSchema = z.strictObject({
  name,
  kind: z.enum(['wind', 'tension']).describe('Which load factor it takes.'),
  heightM,
  forceN: positive.max(1e7).describe('Horizontal.'),
});

const loadFactorsSchema = z.strictObject({
  wind: positive.max(10),
  tension: positive.max(10),
  weight: positive.max(10),
  strength: positive.max(1).describe('Strength factor: the requirement is divided by it.'),
  source,
});

/**
 * What a line asks of a pole: wind, conductors, equipment and forces as its engineer enters them, with factors and rule.
 * It says nothing of the pole itself, so that it can be laid against any pole that is tall enough.
 */
export const requirementProfileSchema = z.strictObject({
  name,
  source: source.describe('Whose loads these are, and from where.'),
  wind: windSchema.nullish().describe('Absent: no wind.'),
  conductors: z.array(conductorSchema).max(50).default([]),
  equipment: z.array(equipmentSchema).max(50).default([]),
  forces: z.array(forceSchema).max(50).default([]),
  loadFactors: loadFactorsSchema.nullish().describe('Absent: all are 1.'),
  rule: strengthLossRuleSchema
    .nullish()
    .describe(
      'Share of the moment at which the pole is replaced or restored; absent: the moment is the threshold.',
    ),
});

export type RequirementProfile = z.infer<typeof requirementProfileSchema>;
