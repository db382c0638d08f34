import { type Kysely, sql } from 'kysely';
import { gatherPredictors, spreadOf } from '../../gatherPredictors.ts';
import { GROUNDLINE_GIRTH } from '../../inference/index.ts';
import {
  type Costs,
  measurementPart,
  predictCapacity,
  type StrengthPredictors,
  separateMeasurement,
  type ValueOfVisit,
  type VisitedPole,
  valueOfSecondVisit,
} from '../../strength/index.ts';
import { readStoredResult } from '../assessments.repository.ts';
import { jsonField } from '../sqlWords.ts';
import type { Tables } from '../tables.ts';
import { decodeVisitFile } from '../visits.repository.ts';
import type { KeptCalibration } from './calibrations.repository.ts';

type Db = Kysely<Tables>;

/** Visits looked at: those whose chance lies nearest to where the decision turns. Each takes some milliseconds. */
const MOST_LOOKED_AT = 300;

export type RankedVisit = Omit<ValueOfVisit, 'poleId'> & { visitId: number; poleId: string; date: string };

/**
 * Ranks visits by what a second one to the same pole would be worth, before it is made: how much expected cost it would
 * save by turning wrong decisions. Only the error of the measurement can be narrowed by going again; where the calibration
 * does not tell how much of the spread that is, or tells more than the whole, nothing can be said of the visit.
 * @returns the ranked, and how many visits have a chance at all
 */
export async function rankSecondVisits(
  db: Db,
  kept: KeptCalibration,
  costs: Costs,
): Promise<{ visits: RankedVisit[]; known: number }> {
  const turn = costs.needlessReplacement / (costs.needlessReplacement + costs.missedWeak);
  const near = await listNearTurn(db, turn);
  const poles: (VisitedPole & { visitId: number; date: string })[] = [];
  for (const { assessment_id, visit_id, pole, measured_on } of near.slice(0, MOST_LOOKED_AT)) {
    const visited = await describePole(db, assessment_id, visit_id, kept);
    if (visited) poles.push({ poleId: pole, visitId: visit_id, date: measured_on, ...visited });
  }
  const visits = valueOfSecondVisit(poles, costs)
    .map((value, i) => ({ ...value, visitId: poles[i]!.visitId, date: poles[i]!.date }))
    .sort((a, b) => b.value - a.value);
  return { visits, known: near.length };
}

type Near = { assessment_id: number; visit_id: number; pole: string; measured_on: string; chance: number };

/** Newest result of the last visit to each pole, where it has a chance, those nearest to the turn first, on the scale of odds. Earlier programs summed up one chance only. */
async function listNearTurn(db: Db, turn: number): Promise<Near[]> {
  const chanceBelow = jsonField<number>(db, 'summary_json', 'chanceBelow');
  const { rows: found } = await sql<Omit<Near, 'chance'> & { chance: number | string }>`
    SELECT assessment_id, visit_id, poles.code AS pole, measured_on,
      coalesce(${jsonField<number>(db, 'summary_json', 'chanceBelowThreshold')}, ${chanceBelow}) AS chance
    FROM assessments JOIN visits USING (visit_id) JOIN poles USING (pole_id)
    WHERE assessment_id IN (SELECT max(assessment_id) FROM assessments GROUP BY visit_id)
      AND visit_id = (
        SELECT last.visit_id FROM visits AS last WHERE last.pole_id = visits.pole_id
        ORDER BY last.measured_on DESC, last.visit_id DESC LIMIT 1)
      AND ${chanceBelow} IS NOT NULL`.execute(db);
  // PostgreSQL gives a field of JSON as text
  const rows: Near[] = found.map((row) => ({ ...row, chance: Number(row.chance) }));
  const odds = (chance: number) => Math.log(chance / (1 - chance));
  const distance = ({ chance }: Near) => Math.abs(odds(chance) - odds(turn));
  return rows.sort((a, b) => distance(a) - distance(b));
}

async function describePole(
  db: Db,
  assessmentId: number,
  visitId: number,
  kept: KeptCalibration,
): Promise<Omit<VisitedPole, 'poleId'> | null> {
  const result = await readStoredResult(db, assessmentId);
  if ('error' in result || !result.requirement) return null;
  const stored = await db
    .selectFrom('visits')
    .select(['file_bytes', 'file_name'])
    .where('visit_id', '=', visitId)
    .executeTakeFirstOrThrow();
  const visit = decodeVisitFile(stored.file_bytes, stored.file_name);
  const predictors = gatherPredictors(visit, result);
  const girth = result.priors.find(({ name }) => name === GROUNDLINE_GIRTH);
  if (!predictors || !girth) return null;
  const prediction = kept.calibration.predictModulusOfRupture(predictors);
  if (prediction.modulusOfRupturePa === null) return null;
  const part = findMeasurementPart(kept, predictors, prediction.modulusOfRupturePa.normalSd);
  if (!part) return null;
  const { moment } = predictCapacity({
    modulusOfRupturePa: prediction.modulusOfRupturePa,
    leverage: prediction.leverage,
    groundlineCircumferenceM: girth.median,
    circumferenceLogSd: spreadOf(girth),
    shellThicknessM: visit.measured.shellThicknessM,
  });
  if (part.measurementSd > Math.hypot(moment.normalSd, moment.studentScale)) return null;
  return { capacity: moment, limit: result.requirement.thresholdMomentNm, ...part };
}

type MeasurementPart = Pick<VisitedPole, 'measurementSd' | 'visitErrorSd'>;

/** How much of a prediction's spread the measured stem makes, and what another visit as good would err by. */
function findMeasurementPart(
  { document, calibration }: KeptCalibration,
  predictors: StrengthPredictors,
  normalSd: number,
): MeasurementPart | null {
  const measured = separateMeasurement(predictors.modulusPa, predictors.modulusPriorPa);
  if (!Number.isFinite(measured.logSd)) return null;
  if (document) return measurementPart(document, { ...predictors, modulusPa: measured });
  const ifKnown = calibration.predictModulusOfRupture({
    ...predictors,
    modulusPa: { ...predictors.modulusPa, logSd: 0 },
  });
  if (ifKnown.modulusOfRupturePa === null) return null;
  const measurementSd = Math.sqrt(Math.max(0, normalSd ** 2 - ifKnown.modulusOfRupturePa.normalSd ** 2));
  if (measurementSd === 0) return null;
  return { measurementSd, visitErrorSd: (measurementSd * measured.logSd) / predictors.modulusPa.logSd };
}
