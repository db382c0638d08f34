import { z } from 'zod';
import { breakTestMappingSchema } from '../../../strength/breakTests/breakTestMapping.ts';
import { key, person, reason, uploaded } from './common.ts';

const refusedSchema = z.object({
  line: z.int().describe('From 1, as in an editor.'),
  column: z.string().nullable().describe('null: the row as a whole.'),
  value: z.string(),
  reason: z.string(),
  hint: z.string(),
});

const alreadyHereSchema = z
  .object({
    words: z.string().describe('How many, and from which tables.'),
    tests: z.int(),
    earlier: z.array(key).describe('Tests in use of the same specimens.'),
    differing: z
      .array(z.object({ test: z.string(), line: z.int(), differences: z.array(z.string()) }))
      .describe('Those whose values differ from the ones in use, with what does.'),
  })
  .describe('Tests whose specimens are in use already; null: none.')
  .nullable();

const answerSchema = z
  .object({
    answer: z
      .enum(['leave-out', 'replace', 'keep-both'])
      .describe('replace: the earlier ones are set aside.'),
    earlier: z.array(key).describe('As was told. Where they are others by now, nothing is stored.'),
  })
  .describe('What becomes of tests that are in use already; asked for where there are any.');

const replacedSchema = z
  .array(z.object({ testId: key, by: key }))
  .describe('Earlier tests that were set aside, each with the one in its place.');

const testSetSchema = z.object({
  setId: key,
  fileName: z.string(),
  csvSha256: z.string(),
  keptAt: z.string(),
  tests: z.int().describe('In use or set aside.'),
  refused: z.array(refusedSchema),
  setAside: z
    .array(z.object({ tests: z.int(), chosenAt: z.string(), chosenBy: z.string(), reason: z.string() }))
    .describe('Tests that are in no fit, by the choice that set them aside.'),
  alreadyHere: alreadyHereSchema.describe('Of those, what would count twice if they were taken up again.'),
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

/** Break tests: a table looked at, kept, listed, set aside and taken up again. */
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
      keptAs: key.nullable().describe('The set that this very table is kept as already.'),
      alreadyHere: alreadyHereSchema,
      refused: z.array(refusedSchema),
      notes: z.array(z.string()).describe('What is odd about the series as a whole.'),
      fields: z.array(z.object({ field: z.string(), label: z.string(), units: z.array(z.string()) })),
    }),
  },
  'calibration.keepTests': {
    request: z.object({
      ...uploaded,
      mapping: breakTestMappingSchema,
      alreadyHere: answerSchema.extend({ chosenBy: person }).optional(),
    }),
    response: z.object({
      setId: key,
      isNew: z.boolean(),
      kept: z.int(),
      refused: z.int(),
      replaced: replacedSchema,
    }),
  },
  'calibration.tests': {
    request: z.object({}),
    response: z.object({
      lastChoice: z.int().describe('Grows with every choice of tests to be in use or set aside.'),
      sets: z.array(testSetSchema),
      tests: z.array(keptTestSchema).describe('In use.'),
      notes: z.array(z.string()).describe('What is odd about all tests in use together.'),
    }),
  },
  'calibration.chooseTests': {
    request: z.object({
      setId: key,
      standing: z
        .enum(['in use', 'set aside'])
        .describe('in use: all of its tests that are set aside; set aside: all that are in use.'),
      chosenBy: person,
      reason: reason.default(''),
      alreadyHere: answerSchema.optional(),
      seenChoice: z
        .int()
        .min(0)
        .optional()
        .describe(
          'lastChoice of the list that was looked at. Where another choice of this set was made since, nothing is stored.',
        ),
    }),
    response: z.object({ tests: z.int().describe('That stand otherwise now.'), replaced: replacedSchema }),
  },
};
