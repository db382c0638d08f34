import { noteKeptTests, proposeBreakTests, readBreakTests, readStrengthPa } from '../../../strength/index.ts';
import {
  insertBreakTestSet,
  listBreakTestSets,
  listBreakTests,
} from '../../calibration/breakTests.repository.ts';
import { type GatheredTest, gatherTests } from '../../calibration/gatherTests.ts';
import type { breakTestCalls } from '../../contract/calibration/breakTestCalls.ts';
import type { HandlersOf } from '../../handlers.ts';
import { requireWritable } from '../../requireWritable.ts';
import type { Store } from '../../store.ts';

export function createBreakTestHandlers(store: Store): HandlersOf<typeof breakTestCalls> {
  const { db } = store;
  return {
    'calibration.readTests': async ({ fileName, base64, mapping }) => {
      const csv = Buffer.from(base64, 'base64');
      const proposal = proposeBreakTests(csv, fileName, mapping);
      const { rows, refused, notes } =
        proposal.lacks.length > 0 ? NOTHING_READ : readBreakTests(csv, fileName, proposal.mapping);
      const linked = await countPoles(store, [...new Set(rows.map(({ poleId }) => poleId))]);
      return {
        mapping: proposal.mapping,
        lacks: [...proposal.lacks],
        firstRows: proposal.firstRows.map((row) => [...row]),
        rows: proposal.rows,
        readable: rows.length,
        linked,
        refused: [...refused],
        notes: [...notes],
        fields: proposal.choices.map((choice) => ({ ...choice, units: [...choice.units] })),
      };
    },
    'calibration.keepTests': async ({ fileName, base64, mapping }) => {
      requireWritable(store);
      const csv = Buffer.from(base64, 'base64');
      const { rows, details, refused } = readBreakTests(csv, fileName, mapping);
      const tests = rows.map((row, i) => ({ row, detail: details[i]! }));
      const kept = await insertBreakTestSet(db, { fileName, csv, mapping, tests, refused });
      return { ...kept, kept: tests.length, refused: refused.length };
    },
    'calibration.tests': async () => ({
      sets: await listBreakTestSets(db),
      tests: (await gatherTests(db)).map(describeTest),
      notes: noteKeptTests(await listBreakTests(db)),
    }),
  };
}

const NOTHING_READ: Omit<ReturnType<typeof readBreakTests>, 'details'> = { rows: [], refused: [], notes: [] };

function describeTest({ testId, setId, line, visitId, remark, row }: GatheredTest) {
  return {
    testId,
    setId,
    line,
    visitId,
    remark,
    name: row.id,
    poleId: row.poleId,
    species: row.species,
    treatment: row.treatment,
    modulusPa: row.modulusPa,
    modulusLogSd: row.modulusLogSd,
    frequenciesHz: [...row.frequenciesHz],
    fixity: row.fixity,
    ageYears: row.ageYears,
    moisturePercent: row.moisturePercent,
    circumferenceM: row.circumferenceM,
    modulusOfRupturePa: row.modulusOfRupturePa,
    groundlineStressPa: readStrengthPa(row, 'groundlineStress'),
    groundlineMomentNm: row.groundlineMomentNm,
  };
}

/** How many of the codes are poles of this workspace. */
async function countPoles({ db }: Pick<Store, 'db'>, codes: readonly string[]): Promise<number> {
  // PostgreSQL refuses a list of none
  if (codes.length === 0) return 0;
  const { poles } = await db
    .selectFrom('poles')
    .select((eb) => eb.fn.countAll<number>().as('poles'))
    .where('code', 'in', codes)
    .executeTakeFirstOrThrow();
  return poles;
}
