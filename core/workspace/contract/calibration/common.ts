import { z } from 'zod';
import { PREDICTORS, relationSpecSchema } from '../../../strength/relation/relationSpec.ts';

/** Schemas that the calls of the calibration place share. */
export const key = z.int().positive();
export const person = z.string().trim().min(1).max(120);
export const reason = z.string().trim().max(4000);
export const interval = z.object({ value: z.number(), low: z.number(), high: z.number() });
export const uploaded = { fileName: z.string().min(1).max(255), base64: z.string() };

export const rangeSchema = z.array(
  z.object({
    name: z.enum(PREDICTORS),
    label: z.string(),
    unit: z.string(),
    min: z.number(),
    max: z.number(),
  }),
);

/** A relation as an engineer wants it, under a name of its own. */
export const candidateSchema = z.object({
  name: z.string().trim().min(1).max(60),
  spec: relationSpecSchema,
});

export const leftOut = z.array(key).max(10_000).default([]).describe('Tests that no relation is fitted to.');
