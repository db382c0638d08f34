import { z } from 'zod';

/** Schemas that several topics of the contract share. */
export const visitId = z.int().positive();
export const sha256 = z.string().regex(/^[0-9a-f]{64}$/);
export const numbers = z.array(z.number());
export const measured = z.object({ value: z.number(), sd: z.number() });
export const problem = z.object({ code: z.string(), message: z.string(), hint: z.string() });
