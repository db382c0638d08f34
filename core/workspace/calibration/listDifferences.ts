import { type Kysely, sql } from 'kysely';
import { InputError } from '../../errors.ts';
import type { CallResponse } from '../contract.ts';
import type { ResultSummary } from '../summarise.ts';
import type { Tables } from '../tables.ts';
import type { LeftVisits } from './recomputeStrength.ts';

type Db = Kysely<Tables>;
type Differences = CallResponse<'calibration.differences'>;
type Difference = Differences['rows'][number];
type Side = Difference['before'];

/** Above both sides changed, and below one. */
const LOST_RANK = 3;
const GAINED_RANK = 0.5;
const RATIO_QUANTILES = [0.05, 0.25, 0.5, 0.75, 0.95];

/**
 * Compares the results of a recompute with those that stood before: which visits change side or lose their strength, by how much,
 * and why. Lost strengths come first, then the largest changes.
 * @throws InputError `recompute.unknown`
 */
export async function listDifferences(
  db: Db,
  {
    recomputeId,
    only,
    offset,
    limit,
  }: { recomputeId: number; only: 'crossed' | 'all'; offset: number; limit: number },
): Promise<Differences> {
  const recompute = await db
    .selectFrom('recomputes')
    .selectAll()
    .where('recompute_id', '=', recomputeId)
    .executeTakeFirst();
  if (!recompute) {
    throw new InputError(
      'recompute.unknown',
      `There is no recompute ${recomputeId} in this workspace.`,
      'List the recomputes for those that are there.',
    );
  }
  const compared = (await readPairs(db, recomputeId)).map(compare);
  const shown = only === 'all' ? compared : compared.filter((row) => rankOf(row) > 0);
  shown.sort((a, b) => rankOf(b) - rankOf(a) || sizeOf(b) - sizeOf(a));
  const page = shown.slice(offset, offset + limit);
  const reasons = await readReasons(
    db,
    page.map(({ assessmentId }) => assessmentId),
  );
  const ratios = compared.flatMap(({ capacityRatio }) => capacityRatio ?? []).sort((a, b) => a - b);
  return {
    calibration: recompute.calibration,
    completedAt: recompute.completed_at,
    askedBy: recompute.asked_by,
    recomputed: compared.length,
    poles: countPoles(compared),
    left: JSON.parse(recompute.left_json) as LeftVisits,
    crossings: {
      requirement: countCrossings(compared, 'requirement'),
      threshold: countCrossings(compared, 'threshold'),
    },
    strengths: countStrengths(compared),
    ratios:
      ratios.length === 0
        ? []
        : RATIO_QUANTILES.map((share) => ratios[Math.round(share * (ratios.length - 1))]!),
    rows: page.map(({ assessmentId, ...row }) => ({ ...row, reasons: reasons.get(assessmentId) ?? [] })),
    matching: shown.length,
  };
}

type Pair = {
  assessment_id: number;
  visit_id: number;
  pole: string;
  measured_on: string;
  new_summary: string;
  new_settings: string;
  old_summary: string;
  old_settings: string;
};

/** Each result of a recompute with the one of the same visit that it followed. */
async function readPairs(db: Db, recomputeId: number): Promise<Pair[]> {
  const { rows } = await sql<Pair>`
    SELECT fresh.assessment_id, fresh.visit_id, poles.code AS pole, visits.measured_on,
      fresh.summary_json AS new_summary, fresh.settings_json AS new_settings,
      former.summary_json AS old_summary, former.settings_json AS old_settings
    FROM assessments AS fresh
    JOIN assessments AS former ON former.assessment_id = (
      SELECT max(earlier.assessment_id) FROM assessments AS earlier
      WHERE earlier.visit_id = fresh.visit_id AND earlier.assessment_id < fresh.assessment_id)
    JOIN visits ON visits.visit_id = fresh.visit_id
    JOIN poles ON poles.pole_id = visits.pole_id
    WHERE fresh.recompute_id = ${recomputeId}
    ORDER BY fresh.assessment_id`.execute(db);
  return rows;
}

function compare(pair: Pair): Omit<Difference, 'reasons'> & { assessmentId: number } {
  const before = readSide(pair.old_summary, pair.old_settings);
  const after = readSide(pair.new_summary, pair.new_settings);
  const crossed = (['requirement', 'threshold'] as const).filter((limit) => {
    const [was, is] = [isBelow(before, limit), isBelow(after, limit)];
    return was !== null && is !== null && was !== is;
  });
  return {
    assessmentId: pair.assessment_id,
    visitId: pair.visit_id,
    poleId: pair.pole,
    date: pair.measured_on,
    before,
    after,
    capacityRatio: before.capacityNm && after.capacityNm && after.capacityNm.value / before.capacityNm.value,
    crossed,
    strength: compareStrengths(before, after),
  };
}

function compareStrengths(before: Side, after: Side): Difference['strength'] {
  if ((before.capacityNm === null) === (after.capacityNm === null)) return null;
  return after.capacityNm === null ? 'lost' : 'gained';
}

function readSide(summaryJson: string, settingsJson: string): Side {
  const summary = JSON.parse(summaryJson) as ResultSummary;
  const { calibration } = JSON.parse(settingsJson) as { calibration?: string | null };
  return {
    calibration: calibration ?? null,
    capacityNm: summary.capacityNm,
    requirementNm: summary.requirementNm,
    chanceBelow: summary.chanceBelow,
    // summaries of earlier programs have no threshold
    thresholdNm: summary.thresholdNm ?? null,
    chanceBelowThreshold: summary.chanceBelowThreshold ?? null,
  };
}

/** Whether the median capacity is below what is asked; null where one of the two is not known. */
function isBelow(
  { capacityNm, requirementNm, thresholdNm }: Side,
  limit: 'requirement' | 'threshold',
): boolean | null {
  const limitNm = limit === 'requirement' ? requirementNm : thresholdNm;
  return capacityNm === null || limitNm === null ? null : capacityNm.value < limitNm;
}

function countCrossings(compared: readonly ReturnType<typeof compare>[], limit: 'requirement' | 'threshold') {
  const crossed = compared.filter((row) => row.crossed.includes(limit));
  const below = crossed.filter(({ after }) => isBelow(after, limit));
  const above = crossed.filter((row) => !isBelow(row.after, limit));
  return {
    nowBelow: below.length,
    polesNowBelow: countPoles(below),
    nowAbove: above.length,
    polesNowAbove: countPoles(above),
  };
}

function countStrengths(compared: readonly ReturnType<typeof compare>[]) {
  const lost = compared.filter(({ strength }) => strength === 'lost');
  const gained = compared.filter(({ strength }) => strength === 'gained');
  return {
    lost: lost.length,
    polesLost: countPoles(lost),
    lostBelow: lost.filter(({ before }) => isBelow(before, 'requirement')).length,
    gained: gained.length,
    polesGained: countPoles(gained),
  };
}

function countPoles(visits: readonly { poleId: string }[]): number {
  return new Set(visits.map(({ poleId }) => poleId)).size;
}

/** What is looked at first: a strength that went, then sides that changed, then a strength that came. */
function rankOf({ strength, crossed }: Pick<Difference, 'strength' | 'crossed'>): number {
  return strength === 'lost' ? LOST_RANK : strength === 'gained' ? GAINED_RANK : crossed.length;
}

/** How far the capacity moved; a strength that came or went counts most. */
function sizeOf({ capacityRatio }: { capacityRatio: number | null }): number {
  return capacityRatio === null ? Number.POSITIVE_INFINITY : Math.abs(Math.log(capacityRatio));
}

async function readReasons(db: Db, assessmentIds: readonly number[]): Promise<Map<number, string[]>> {
  if (assessmentIds.length === 0) return new Map();
  const rows = await db
    .selectFrom('assessments')
    .select(['assessment_id', 'result_json'])
    .where('assessment_id', 'in', assessmentIds)
    .execute();
  return new Map(
    rows.map((row) => [row.assessment_id, (JSON.parse(row.result_json) as { reasons: string[] }).reasons]),
  );
}
