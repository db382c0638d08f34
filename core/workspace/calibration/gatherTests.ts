import type { Kysely } from 'kysely';
import type { Assessment } from '../../assessment.ts';
import { gatherPredictors } from '../../gatherPredictors.ts';
import { ownPriorOf } from '../../ownPriorOf.ts';
import type { VisitFile } from '../../recording/index.ts';
import { type BreakTestRow, countArmsNotShortened, separateMeasurement } from '../../strength/index.ts';
import { findLatestAssessment } from '../assessments.repository.ts';
import type { Tables } from '../tables.ts';
import { decodeVisitFile } from '../visits.repository.ts';
import { type KeptBreakTest, listTestsInUse } from './breakTests.repository.ts';
import { compareWithVisit } from './compareWithVisit.ts';
import { findTestedVisit } from './findTestedVisit.ts';
import { listVisitsOfPoles, type StoredVisit } from './listVisitsOfPoles.ts';

type Db = Kysely<Tables>;

export type GatheredTest = {
  readonly testId: number;
  readonly setId: number;
  readonly line: number;
  /** The visit that stiffness, frequencies and fixity are from; null: they are from the table. */
  readonly visitId: number | null;
  /** Why a pole of the workspace could not be taken; null where there is nothing to say. */
  readonly remark: string | null;
  /** Its moment was taken with the whole arm, though that shortens while the pole bends. */
  readonly isArmWhole: boolean;
  readonly row: BreakTestRow;
};

/**
 * Every break test in use as a relation takes it. A test of a pole that was visited takes stiffness, frequencies and fixity from the
 * newest result of that visit, where that result was not withheld over its stem: of the visit that its table names by date or
 * file name, else of the pole's only one. A test whose table and visit do not tell of one pole is linked only where a person said
 * that it is. Tests of other poles stand by themselves.
 */
export async function gatherTests(db: Db): Promise<GatheredTest[]> {
  const tests = await listTestsInUse(db);
  const visits = await listVisitsOfPoles(db, db.selectFrom('break_tests').select('pole_code'));
  const names = new Set<string>();
  const gathered: GatheredTest[] = [];
  for (const { testId, setId, poleCode, row, detail } of tests) {
    const linked = await linkTest(db, { row, detail }, visits.get(poleCode) ?? []);
    // two tables may use the same names
    const id = names.has(row.id) ? `${row.id} (${setId}, line ${detail.line})` : row.id;
    names.add(id);
    gathered.push({
      testId,
      setId,
      line: detail.line,
      isArmWhole: countArmsNotShortened([detail]) > 0,
      ...linked,
      row: { ...linked.row, id },
    });
  }
  return gathered;
}

async function linkTest(
  db: Db,
  { row, detail }: KeptBreakTest,
  visits: readonly StoredVisit[],
): Promise<Pick<GatheredTest, 'row' | 'visitId' | 'remark'>> {
  if (visits.length === 0) return { row, visitId: null, remark: null };
  const visit = findTestedVisit(visits, detail.visit);
  if (!visit) {
    const remark =
      detail.visit === null
        ? `Pole ${row.poleId} has ${visits.length} visits (${visits.map(({ date }) => date).join(', ')}) and the table names none: figures are those of the table.`
        : `Pole ${row.poleId} has no visit "${detail.visit}" here.`;
    return { row, visitId: null, remark };
  }
  const file = decodeVisitFile(visit.fileBytes, visit.fileName);
  const differences = detail.isSamePole ? [] : compareWithVisit({ row, detail }, file);
  if (differences.length > 0) {
    return {
      row,
      visitId: null,
      remark: `Not linked to the visit of ${visit.date}: ${differences.join('; ')}. Figures are those of the table.`,
    };
  }
  const latest = await findLatestAssessment(db, visit.visitId);
  if (!latest || 'error' in latest.result || !latest.result.stem) {
    return {
      row,
      visitId: visit.visitId,
      remark: `The visit of ${visit.date} has no stem: figures are those of the table.`,
    };
  }
  if (latest.result.withheldBy === 'chain') {
    return {
      row,
      visitId: visit.visitId,
      remark: `The result of the visit of ${visit.date} is withheld (${latest.result.withheldBecause}): figures are those of the table.`,
    };
  }
  if (latest.result.priors.some((prior) => ownPriorOf(prior) !== null)) {
    return {
      row,
      visitId: visit.visitId,
      remark: `A prior set by hand is in the result of the visit of ${visit.date}: figures are those of the table.`,
    };
  }
  return { row: takeFromVisit(row, file, latest.result), visitId: visit.visitId, remark: null };
}

/** A row with what the visit before the break measured of stem and root. */
function takeFromVisit(row: BreakTestRow, visit: VisitFile, result: Assessment): BreakTestRow {
  const predictors = gatherPredictors(visit, result);
  if (!predictors) return row;
  const modulus = separateMeasurement(predictors.modulusPa, predictors.modulusPriorPa);
  const wasMeasured = Number.isFinite(modulus.logSd);
  return {
    ...row,
    modulusPa: wasMeasured ? modulus.median : null,
    modulusLogSd: wasMeasured ? modulus.logSd : null,
    // frequencies of a pole with cables and equipment are not those of the bare pole
    frequenciesHz: predictors.isBare ? [...predictors.frequenciesHz] : [null, null, null],
    stemLengthM: row.stemLengthM ?? predictors.stemLengthM,
    fixity: predictors.fixity,
    densityKgPerM3: row.densityKgPerM3 ?? predictors.densityKgPerM3,
    ageYears: row.ageYears ?? predictors.ageYears,
    moisturePercent: row.moisturePercent ?? predictors.moisturePercent,
    treatment: row.treatment ?? predictors.treatment,
  };
}
