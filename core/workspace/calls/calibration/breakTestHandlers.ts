import { hashSha256 } from '../../../hashSha256.ts';
import { noteKeptTests, proposeBreakTests, readBreakTests, readStrengthPa } from '../../../strength/index.ts';
import { describeHere, findHere } from '../../calibration/alreadyHere.ts';
import { chooseTestSet, readLastTestChoice } from '../../calibration/breakTestChoices.repository.ts';
import {
  findBreakTestSet,
  hashContents,
  type KeptBreakTest,
  type ListedBreakTest,
  listBreakTestSets,
  listBreakTests,
  listTestsInUse,
} from '../../calibration/breakTests.repository.ts';
import { compareWithVisit } from '../../calibration/compareWithVisit.ts';
import { findTestedVisit } from '../../calibration/findTestedVisit.ts';
import { type GatheredTest, gatherTests } from '../../calibration/gatherTests.ts';
import { keepBreakTestSet } from '../../calibration/keepBreakTestSet.ts';
import { listVisitsOfPoles } from '../../calibration/listVisitsOfPoles.ts';
import type { breakTestCalls } from '../../contract/calibration/breakTestCalls.ts';
import type { CallResponse } from '../../contract.ts';
import type { HandlersOf } from '../../handlers.ts';
import { requireWritable } from '../../requireWritable.ts';
import type { Store } from '../../store.ts';
import { decodeVisitFile } from '../../visits.repository.ts';

export function createBreakTestHandlers(store: Store): HandlersOf<typeof breakTestCalls> {
  const { db } = store;
  return {
    'calibration.readTests': async ({ fileName, base64, mapping }) => {
      const csv = Buffer.from(base64, 'base64');
      const proposal = proposeBreakTests(csv, fileName, mapping);
      const { rows, details, refused, unknownSpecies, notes } =
        proposal.lacks.length > 0 ? NOTHING_READ : readBreakTests(csv, fileName, proposal.mapping);
      const tests = rows.map((row, i) => ({ row, detail: details[i]! }));
      const keptAs = await findBreakTestSet(db, hashContents(hashSha256(csv), proposal.mapping));
      return {
        mapping: proposal.mapping,
        lacks: [...proposal.lacks],
        firstRows: proposal.firstRows.map((row) => [...row]),
        rows: proposal.rows,
        readable: rows.length,
        ...(await findLinks(store, tests)),
        unknownSpecies: unknownSpecies.map((species) => ({ ...species })),
        keptAs: keptAs ?? null,
        alreadyHere:
          keptAs === undefined ? describeHere(findHere(tests, await listTestsInUse(db)), tests.length) : null,
        refused: [...refused],
        notes: [...notes],
        fields: proposal.choices.map((choice) => ({ ...choice, units: [...choice.units] })),
      };
    },
    'calibration.keepTests': async ({ fileName, base64, mapping, alreadyHere }) => {
      requireWritable(store);
      const csv = Buffer.from(base64, 'base64');
      const { rows, details, refused } = readBreakTests(csv, fileName, mapping);
      const tests = rows.map((row, i) => ({ row, detail: details[i]! }));
      const kept = await keepBreakTestSet(db, { fileName, csv, mapping, tests, refused, alreadyHere });
      return { ...kept, kept: tests.length, refused: refused.length };
    },
    'calibration.tests': async () => {
      // read first: a choice made in between is then refused rather than overlooked
      const lastChoice = await readLastTestChoice(db);
      const tests = await listBreakTests(db);
      return {
        lastChoice,
        sets: (await listBreakTestSets(db)).map((set) => ({ ...set, ...describeStanding(set.setId, tests) })),
        tests: (await gatherTests(db)).map(describeTest),
        notes: noteKeptTests(tests.filter(({ setAside }) => setAside === null)),
      };
    },
    'calibration.chooseTests': async (choice) => {
      requireWritable(store);
      return chooseTestSet(db, choice);
    },
  };
}

const NOTHING_READ: ReturnType<typeof readBreakTests> = {
  rows: [],
  details: [],
  refused: [],
  unknownSpecies: [],
  notes: [],
};

/** How many tests a table has, which choices set some of them aside, and what of these would count twice. */
function describeStanding(setId: number, tests: readonly ListedBreakTest[]) {
  const own = tests.filter((test) => test.setId === setId);
  const aside = own.filter(({ setAside }) => setAside !== null);
  const inUse = tests.filter(({ setAside }) => setAside === null);
  const choices = Map.groupBy(aside, ({ setAside }) => JSON.stringify(setAside));
  return {
    tests: own.length,
    setAside: [...choices.values()].map((chosen) => ({ tests: chosen.length, ...chosen[0]!.setAside! })),
    alreadyHere: describeHere(findHere(aside, inUse), aside.length),
  };
}

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

/** How many tests a visit is found for, and which of these are not linked, or only on a person's word, since table and visit differ. */
async function findLinks({ db }: Pick<Store, 'db'>, tests: readonly KeptBreakTest[]) {
  const visits = await listVisitsOfPoles(db, [...new Set(tests.map(({ row }) => row.poleId))]);
  let linked = 0;
  const differing: CallResponse<'calibration.readTests'>['differing'] = [];
  for (const { row, detail } of tests) {
    const visit = findTestedVisit(visits.get(row.poleId) ?? [], detail.visit);
    if (!visit) continue;
    const { date, fileBytes, fileName } = visit;
    const differences = compareWithVisit({ row, detail }, decodeVisitFile(fileBytes, fileName));
    const { id, line, isSamePole } = detail;
    if (differences.length > 0) differing.push({ test: id, line, visit: date, differences, isSamePole });
    if (differences.length === 0 || isSamePole) linked++;
  }
  return { linked, differing };
}
