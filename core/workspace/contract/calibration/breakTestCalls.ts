import { z } from 'zod';
import { breakTestMappingSchema } from '../../../strength/breakTests/breakTestMapping.ts';
import { key, uploaded } from './common.ts';

const refusedSchema = z.object({
  line: z.int().describe('From 1, as in an editor.'),
  column: z.string().nullable().describe('null: the row as a whole.'),
  value: z.string(),
  reason: z.string(),
  hint: z.string(),
});

const testSetSchema = z.object({
  setId: key,
  fileName: z.string(),
  csvSha256: z.string(),
  keptAt: z.string(),
  tests: z.int(),
  refused: z.array(refusedSchema),
});

const keptTestSchema = z.object({
  testId: key,
  setId: key,
  line: z.int(),
  visitId: key.nullable().describe('The visit that the test is linked to.'),
  remark: z.string().nullable().describe('Why a visit of the pole could not be taken.'),
  name: z.string().describe('Of the test; no other has it.'),
  poleId: z.string(),
  species: z.string(),
  treatment: z.string().nullable(),
  modulusPa: z.number().nullable(),
  modulusLogSd: z.number().nullable(),
  frequenciesHz: z.array(z.number().nullable()),
  fixity: z.number().nullable(),
  ageYears: z.number().nullable(),
  moisturePercent: z.number().nullable(),
  circumferenceM: z.number(),
  modulusOfRupturePa: z.number(),
  groundlineStressPa: z.number(),
  groundlineMomentNm: z.number(),
});

/** Break tests: a table looked at, kept, listed. */
export const breakTestCalls = {
  'calibration.readTests': {
    request: z.object({
      ...uploaded,
      mapping: breakTestMappingSchema.optional().describe('Absent: the program proposes one.'),
    }),
    response: z.object({
      mapping: breakTestMappingSchema,
      lacks: z.array(z.string()).describe('What keeps the table from being read; empty where nothing does.'),
      firstRows: z.array(z.array(z.string())),
      rows: z.int(),
      readable: z.int().describe('Tests that would be kept.'),
      linked: z.int().describe('Of those, tests that are linked to a visit of this workspace.'),
      differing: z
        .array(
          z.object({
            test: z.string(),
            line: z.int(),
            visit: z.string().describe('Its date.'),
            differences: z.array(z.string()),
            isSamePole: z.boolean().describe('Linked all the same, as the mapping says.'),
          }),
        )
        .describe('Tests that name a visited pole, and whose table and visit do not tell of one pole.'),
      unknownSpecies: z.array(
        z.object({ name: z.string(), tests: z.int() }).describe('As the table has it.'),
      ),
      refused: z.array(refusedSchema),
      notes: z.array(z.string()).describe('What is odd about the series as a whole.'),
      fields: z.array(z.object({ field: z.string(), label: z.string(), units: z.array(z.string()) })),
    }),
  },
  'calibration.keepTests': {
    request: z.object({ ...uploaded, mapping: breakTestMappingSchema }),
    response: z.object({ setId: key, isNew: z.boolean(), kept: z.int(), refused: z.int() }),
  },
  'calibration.tests': {
    request: z.object({}),
    response: z.object({
      sets: z.array(testSetSchema),
      tests: z.array(keptTestSchema),
      notes: z.array(z.string()).describe('What is odd about all tests together.'),
    }),
  },
};
