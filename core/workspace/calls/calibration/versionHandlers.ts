import { type Kysely, sql } from 'kysely';
import { FormatError } from '../../../errors.ts';
import { parseJson } from '../../../parseJson.ts';
import {
  type CalibrationDocument,
  calibrationFromDocument,
  calibrationLabel,
  handbookCalibration,
  PREDICTOR_INFO,
  PREDICTORS,
  readCalibrationDocument,
} from '../../../strength/index.ts';
import { type ListedBreakTest, listBreakTests } from '../../calibration/breakTests.repository.ts';
import {
  type CalibrationChoice,
  chooseCalibration,
  findCalibrationInForce,
  getCalibration,
  getDocument,
  HANDBOOK,
  insertCalibration,
  type ListedCalibration,
  listCalibrations,
  listChoices,
} from '../../calibration/calibrations.repository.ts';
import { describeSpans } from '../../calibration/describeRange.ts';
import { tellSetAside } from '../../calibration/tellSetAside.ts';
import type { versionCalls } from '../../contract/calibration/versionCalls.ts';
import type { CallResponse } from '../../contract.ts';
import type { HandlersOf } from '../../handlers.ts';
import { requireWritable } from '../../requireWritable.ts';
import { jsonField } from '../../sqlWords.ts';
import type { Store } from '../../store.ts';
import type { Tables } from '../../tables.ts';

type Listed = CallResponse<'calibration.overview'>['calibrations'][number];

export function createVersionHandlers(store: Store): HandlersOf<typeof versionCalls> {
  const { db } = store;
  return {
    'calibration.overview': async () => {
      const [kept, choices, inForce, results, recomputes, tests] = await Promise.all([
        listCalibrations(db),
        listChoices(db),
        findCalibrationInForce(db),
        countResults(db),
        listRecomputes(db),
        listBreakTests(db),
      ]);
      const labels = new Map(kept.map(({ calibrationId, document }) => [calibrationId, labelOf(document)]));
      const nameChoice = ({ calibrationId, ...choice }: CalibrationChoice) => ({
        ...choice,
        label: calibrationId === null ? HANDBOOK.label : labels.get(calibrationId)!,
      });
      return {
        inForce: { calibrationId: inForce.calibrationId, label: inForce.label },
        choices: choices.map(nameChoice),
        calibrations: [
          ...kept.reverse().map((one) => describeKept(one, results, tests)),
          describeHandbook(results),
        ],
        recomputes,
        predictors: PREDICTORS.map((name) => {
          const { label, unit, unitInSi } = PREDICTOR_INFO[name];
          return { name, label, unit, unitInSi };
        }),
      };
    },
    'calibration.use': async ({ calibrationId, ...choice }) => {
      await chooseCalibration(db, calibrationId, choice);
      return { label: (await getCalibration(db, calibrationId)).label };
    },
    'calibration.export': async ({ calibrationId }) => {
      const { document } = await getDocument(db, calibrationId);
      return {
        fileName: `${document.name}-${document.number}.calibration.json`,
        json: `${JSON.stringify(document, null, 2)}\n`,
      };
    },
    'calibration.import': async ({ fileName, base64 }) => {
      requireWritable(store);
      const document = readCalibrationDocument(decodeDocument(fileName, Buffer.from(base64, 'base64')));
      return { ...(await insertCalibration(db, document, 'imported')), label: labelOf(document) };
    },
  };
}

function decodeDocument(fileName: string, bytes: Uint8Array): unknown {
  try {
    return parseJson(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch (error) {
    throw new FormatError(
      'calibration.json',
      `${fileName} is not JSON in UTF-8: ${(error as Error).message}.`,
      'Choose a file that was exported as a calibration.',
    );
  }
}

/** Results under one calibration: of visits for which it is the newest, and all that are stored. */
type Counts = Pick<Listed, 'results' | 'kept'>;

/** By the calibration that results were made under. */
async function countResults(db: Kysely<Tables>): Promise<ReadonlyMap<string, Counts>> {
  const { rows } = await sql<Counts & { calibration: string | null }>`
    SELECT ${jsonField(db, 'settings_json', 'calibration')} AS calibration, count(*) AS kept,
      count(*) FILTER (WHERE assessment_id IN (SELECT max(assessment_id) FROM assessments GROUP BY visit_id)) AS results
    FROM assessments GROUP BY 1`.execute(db);
  return new Map(
    rows.flatMap(({ calibration, results, kept }) =>
      calibration === null ? [] : [[calibration, { results, kept }]],
    ),
  );
}

const NO_RESULTS: Counts = { results: 0, kept: 0 };

async function listRecomputes(
  db: Kysely<Tables>,
): Promise<CallResponse<'calibration.overview'>['recomputes']> {
  const rows = await db
    .selectFrom('recomputes')
    .select((eb) => [
      'recompute_id',
      'calibration',
      'completed_at',
      'asked_by',
      eb
        .selectFrom('assessments')
        .select((inner) => inner.fn.countAll<number>().as('count'))
        .whereRef('assessments.recompute_id', '=', 'recomputes.recompute_id')
        .as('results'),
    ])
    .orderBy('recompute_id', 'desc')
    .execute();
  return rows.map((row) => ({
    recomputeId: row.recompute_id,
    calibration: row.calibration,
    completedAt: row.completed_at,
    askedBy: row.asked_by,
    results: row.results ?? 0,
  }));
}

function labelOf({ name, number }: CalibrationDocument): string {
  return calibrationLabel({ name, version: number });
}

function describeKept(
  { calibrationId, document, origin }: ListedCalibration,
  results: ReadonlyMap<string, Counts>,
  breakTests: readonly ListedBreakTest[],
): Listed {
  const { author, note, publishedAt, rows, dataSha256 } = document;
  const label = labelOf(document);
  return {
    calibrationId,
    label,
    origin,
    author,
    note,
    publishedAt,
    about: calibrationFromDocument(document).describe(),
    tests: rows.length,
    dataSha256,
    setAside: tellSetAside(document, breakTests),
    range: describeSpans(document),
    ...(results.get(label) ?? NO_RESULTS),
  };
}

function describeHandbook(results: ReadonlyMap<string, Counts>): Listed {
  return {
    calibrationId: null,
    label: HANDBOOK.label,
    origin: 'built in',
    author: null,
    note: '',
    publishedAt: null,
    about: handbookCalibration.describe(),
    tests: 0,
    dataSha256: null,
    setAside: null,
    range: [],
    ...(results.get(HANDBOOK.label) ?? NO_RESULTS),
  };
}
