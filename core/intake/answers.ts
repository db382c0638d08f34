import { z } from 'zod';
import { UNIT_IDS } from './units.ts';

/** Where an answer comes from: a person, common practice, the visit described before, or the file itself. */
const ORIGINS = ['typed', 'usual', 'last visit', 'file'] as const;

const entrySchema = z.object({
  text: z.string().max(400),
  unit: z.enum(UNIT_IDS).nullable(),
  from: z.enum(ORIGINS),
});

const channelSchema = z.object({
  index: z.int().min(0).max(255),
  used: z.boolean(),
  azimuth: entrySchema,
  height: entrySchema,
  fullScale: entrySchema,
  corner: entrySchema,
});

const recordingSchema = z.object({
  file: z.string().min(1).max(255),
  exciter: entrySchema,
  strikeHeight: entrySchema,
  strikeAzimuth: entrySchema,
  channels: z.array(channelSchema).max(64),
});

/** What was entered of a visit, as it was entered: text and unit, nothing converted. */
export const answersSchema = z.object({
  pole: z.object({
    id: entrySchema,
    species: entrySchema,
    treatment: entrySchema,
    classCode: entrySchema,
    length: entrySchema,
    setYear: entrySchema,
    buttToTag: entrySchema,
    latitude: entrySchema,
    longitude: entrySchema,
  }),
  measured: z.object({
    date: entrySchema,
    topCircumference: entrySchema,
    tagHeight: entrySchema,
    sensorHeight: entrySchema,
    sensorMass: entrySchema,
    soil: entrySchema,
    moisture: entrySchema,
    temperature: entrySchema,
    lineAzimuth: entrySchema,
    density: entrySchema,
    shellThickness: entrySchema,
  }),
  circumferences: z.array(z.object({ height: entrySchema, circumference: entrySchema })).max(50),
  cables: z
    .array(
      z.object({
        kind: entrySchema,
        count: entrySchema,
        height: entrySchema,
        azimuth: entrySchema,
        stiffness: entrySchema,
        mass: entrySchema,
      }),
    )
    .max(50),
  attachments: z.array(z.object({ kind: entrySchema, height: entrySchema, mass: entrySchema })).max(50),
  recordings: z.array(recordingSchema).max(64),
});

export type Answers = z.infer<typeof answersSchema>;
export type Entry = z.infer<typeof entrySchema>;

/** What a crew does alike at every visit, as last entered. */
export const habitsSchema = z.object({
  sensorHeight: entrySchema.optional(),
  sensorMass: entrySchema.optional(),
  fullScale: entrySchema.optional(),
  corner: entrySchema.optional(),
});

export type Habits = z.infer<typeof habitsSchema>;
