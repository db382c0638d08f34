import { setImmediate } from 'node:timers/promises';
import { type Kysely, sql } from 'kysely';
import { z } from 'zod';
import { type Assessment, assessmentSchema } from '../../assessment.ts';
import type { StrengthConclusion } from '../../concludeOnStrength.ts';
import { InputError, StemrootError } from '../../errors.ts';
import { hashSha256 } from '../../hashSha256.ts';
import { PROGRAM } from '../../program.ts';
import { refreshVisits } from '../register/refreshPoles.ts';
import { isTeam } from '../sqlWords.ts';
import type { Store } from '../store.ts';
import { summarise } from '../summarise.ts';
import type { Tables } from '../tables.ts';
import { appendTrail } from '../trail/index.ts';
import { decodeVisitFile } from '../visits.repository.ts';
import type { KeptCalibration } from './calibrations.repository.ts';
import { composeResult, type RecomputedResult } from './composeResult.ts';
import { concludeAnew } from './concludeAnew.ts';
import { giveRequirement, readLastProfileChoice, readProfilesInUse } from './profiles.repository.ts';
import { tellReasons } from './tellReasons.ts';

type Db = Kysely<Tables>;

/** Visits worked through between two looks at whether to go on, and at what else waits: some 20 ms. */
const CHUNK = 50;

/** What became of the visits that got no new result. */
export type LeftVisits = {
  /** The new result would be that which stands. */
  unchanged: number;
  /** No strength under any calibration: stem and root do not allow one, or nothing was assessed. */
  withoutStrength: number;
  /** Assessed anew while this was running, under what was in force. */
  assessedMeanwhile: number;
  /** Could not be worked through, with why. */
  failed: { visitId: number; message: string }[];
};

export type RecomputeOutcome =
  | { state: 'completed'; recomputeId: number; recomputed: number; left: LeftVisits }
  | { state: 'cancelled' };

export type RecomputeOptions = {
  askedBy: string;
  signal?: AbortSignal;
  /** Waited for: nothing is stored before the last one ended. */
  onProgress?: (done: number, total: number) => void | Promise<void>;
};

type Candidate = { visit_id: number; basis_id: number; previous_id: number };

/**
 * Brings the results of a whole workspace under another calibration: strength and requirement anew, stem and root as the
 * newest run of the chain left them. Results are put aside in a temporary table, out of sight of everybody, and
 * stored in one transaction at the end, beside those that are there; broken off before that, nothing was done.
 * @throws InputError `recompute.profilesChanged` where a requirement profile was chosen meanwhile: nothing was stored
 */
export async function recomputeStrength(
  { db }: Store,
  kept: KeptCalibration,
  options: RecomputeOptions,
): Promise<RecomputeOutcome> {
  // a file has one connection for all; of a team store's, the one that has the temporary table is held on to
  if (!isTeam(db)) return recompute(db, kept, options);
  return db.connection().execute((connection) => recompute(connection, kept, options));
}

async function recompute(
  db: Db,
  kept: KeptCalibration,
  { askedBy, signal, onProgress = () => {} }: RecomputeOptions,
): Promise<RecomputeOutcome> {
  const startedAt = new Date().toISOString();
  const candidates = await listCandidates(db);
  const profileChoice = await readLastProfileChoice(db);
  const profiles = await readProfilesInUse(db);
  const left: LeftVisits = { unchanged: 0, withoutStrength: 0, assessedMeanwhile: 0, failed: [] };
  await prepareStage(db);
  try {
    for (let from = 0; from < candidates.length; from += CHUNK) {
      await onProgress(from, candidates.length);
      await setImmediate();
      if (signal?.aborted) return { state: 'cancelled' };
      const rows: StagedRow[] = [];
      for (const source of await readSources(db, candidates.slice(from, from + CHUNK))) {
        const row = recomputeOne(source, kept, profiles, left);
        if (row) rows.push(row);
      }
      await stage(db, rows);
    }
    await onProgress(candidates.length, candidates.length);
    await setImmediate();
    if (signal?.aborted) return { state: 'cancelled' };
    return await storeStaged(db, kept, { askedBy, startedAt, profileChoice, left });
  } finally {
    await sql`DELETE FROM staged_results`.execute(db);
  }
}

/** Newest run of the chain and newest result of every visit that was assessed. */
async function listCandidates(db: Db): Promise<Candidate[]> {
  const { rows } = await sql<Candidate>`
    SELECT visit_id, max(assessment_id) FILTER (WHERE basis_id IS NULL) AS basis_id, max(assessment_id) AS previous_id
    FROM assessments GROUP BY visit_id ORDER BY visit_id`.execute(db);
  return rows;
}

type Source = Candidate & {
  file_name: string;
  file_bytes: Uint8Array;
  pole_id: number;
  decisions_json: string;
  inputs_json: string;
  verdict: string;
  result_json: string;
  /** null: the basis is the newest result. */
  previous_json: string | null;
};

async function readSources(db: Db, candidates: readonly Candidate[]): Promise<Source[]> {
  const rows = await db
    .selectFrom('assessments as basis')
    .innerJoin('visits', 'visits.visit_id', 'basis.visit_id')
    .select([
      'basis.assessment_id as basis_id',
      'basis.visit_id',
      'basis.decisions_json',
      'basis.inputs_json',
      'basis.verdict',
      'basis.result_json',
      'visits.file_name',
      'visits.file_bytes',
      'visits.pole_id',
    ])
    .where(
      'basis.assessment_id',
      'in',
      candidates.map(({ basis_id }) => basis_id),
    )
    .execute();
  const later = candidates.filter(({ basis_id, previous_id }) => basis_id !== previous_id);
  const laterRows =
    later.length === 0
      ? []
      : await db
          .selectFrom('assessments')
          .select(['visit_id', 'result_json'])
          .where(
            'assessment_id',
            'in',
            later.map(({ previous_id }) => previous_id),
          )
          .execute();
  const previousJson = new Map(laterRows.map((row) => [row.visit_id, row.result_json]));
  const previousId = new Map(candidates.map((candidate) => [candidate.visit_id, candidate.previous_id]));
  return rows.map((row) => ({
    ...row,
    previous_id: previousId.get(row.visit_id)!,
    previous_json: previousJson.get(row.visit_id) ?? null,
  }));
}

const previousSchema = assessmentSchema.pick({
  verdict: true,
  withheldBecause: true,
  strength: true,
  requirement: true,
});

type StagedRow = {
  visit_id: number;
  basis_id: number;
  verdict: string;
  decisions_json: string;
  settings_json: string;
  inputs_json: string;
  inputs_sha256: string;
  result_json: string;
  summary_json: string;
};

/** The new row of one visit; null where there is none to store, which is noted. */
function recomputeOne(
  source: Source,
  kept: KeptCalibration,
  profiles: Awaited<ReturnType<typeof readProfilesInUse>>,
  left: LeftVisits,
): StagedRow | null {
  if (source.verdict === 'failed') {
    left.withoutStrength++;
    return null;
  }
  try {
    const raw = JSON.parse(source.result_json) as Assessment;
    if (raw.verdict === 'withheld' && raw.withheldBy !== 'calibration') {
      left.withoutStrength++;
      return null;
    }
    const previous = previousSchema.parse(
      source.previous_json === null ? raw : JSON.parse(source.previous_json),
    );
    const inUse = profiles.get(source.pole_id);
    const ownVisit = decodeVisitFile(source.file_bytes, source.file_name);
    const visit = giveRequirement(ownVisit, inUse);
    const conclusion = concludeAnew(raw, visit, kept.calibration);
    if (conclusion.verdict === 'assessed' && conclusion.strength === null) {
      left.failed.push({
        visitId: source.visit_id,
        message: `${source.file_name}: ${describeLack(source.basis_id)}`,
      });
      return null;
    }
    if (isSame(previous, conclusion)) {
      left.unchanged++;
      return null;
    }
    const own: RecomputedResult = { ...conclusion, reasons: tellReasons(previous, conclusion) };
    const profileId = visit === ownVisit ? null : inUse!.profileId;
    return toRow(source, kept, { own, whole: composeResult(raw, own), profileId });
  } catch (error) {
    left.failed.push({
      visitId: source.visit_id,
      message: `${source.file_name}: ${describeFailure(error, source.basis_id)}`,
    });
    return null;
  }
}

function toRow(
  { visit_id, basis_id, decisions_json, inputs_json }: Source,
  kept: KeptCalibration,
  { own, whole, profileId }: { own: RecomputedResult; whole: Assessment; profileId: number | null },
): StagedRow {
  const settingsJson = JSON.stringify({
    seed: whole.provenance.seed,
    calibration: kept.label,
    ...(kept.sha256 !== null && { calibrationSha256: kept.sha256 }),
    ...(profileId !== null && { profileId }),
    root: whole.root?.model ?? null,
    basis: basis_id,
  });
  return {
    visit_id,
    basis_id,
    verdict: own.verdict,
    decisions_json,
    settings_json: settingsJson,
    inputs_json,
    inputs_sha256: hashSha256([inputs_json, decisions_json, settingsJson, PROGRAM].join('\n')),
    result_json: JSON.stringify(own),
    summary_json: JSON.stringify(summarise(whole)),
  };
}

/** Whether a fresh result says the same of strength and requirement as the one that stands. */
function isSame(previous: z.infer<typeof previousSchema>, fresh: StrengthConclusion): boolean {
  if (previous.strength?.calibration !== fresh.strength?.calibration) return false;
  // parsed, so that both have their fields in the order of the schema
  return JSON.stringify(previous) === JSON.stringify(previousSchema.parse(fresh));
}

/** Of a result by an early program. */
function describeLack(basisId: number): string {
  return `Assessment ${basisId} does not state the girth that it was computed with. Assess the visit again.`;
}

function describeFailure(error: unknown, basisId: number): string {
  if (error instanceof StemrootError) return `${error.message} ${error.hint}`;
  if (error instanceof z.ZodError) {
    return `Assessment ${basisId} is not of the form that this program reads (field ${error.issues[0]!.path.join('.')}). Assess the visit again.`;
  }
  throw error;
}

/** Makes the temporary table empty. It belongs to this connection alone and goes with it. */
async function prepareStage(db: Db): Promise<void> {
  await sql`CREATE TEMP TABLE IF NOT EXISTS staged_results (
    visit_id BIGINT NOT NULL PRIMARY KEY, basis_id BIGINT NOT NULL, verdict TEXT NOT NULL,
    decisions_json TEXT NOT NULL, settings_json TEXT NOT NULL, inputs_json TEXT NOT NULL, inputs_sha256 TEXT NOT NULL,
    result_json TEXT NOT NULL, summary_json TEXT NOT NULL)`.execute(db);
  await sql`DELETE FROM staged_results`.execute(db);
}

async function stage(db: Db, rows: readonly StagedRow[]): Promise<void> {
  if (rows.length === 0) return;
  const values = rows.map(
    (
      row,
    ) => sql`(${row.visit_id}, ${row.basis_id}, ${row.verdict}, ${row.decisions_json}, ${row.settings_json},
      ${row.inputs_json}, ${row.inputs_sha256}, ${row.result_json}, ${row.summary_json})`,
  );
  await sql`INSERT INTO staged_results VALUES ${sql.join(values)}`.execute(db);
}

/** Stores all that was put aside, but for visits that were assessed anew since. */
async function storeStaged(
  db: Db,
  kept: KeptCalibration,
  work: { askedBy: string; startedAt: string; profileChoice: number; left: LeftVisits },
): Promise<RecomputeOutcome> {
  const { askedBy, startedAt, profileChoice, left } = work;
  return db.transaction().execute(async (transaction) => {
    if ((await readLastProfileChoice(transaction)) !== profileChoice) {
      throw new InputError(
        'recompute.profilesChanged',
        'What is asked of some poles was changed while their results were recomputed; nothing was stored.',
        'Recompute again.',
      );
    }
    const overtaken = await sql`DELETE FROM staged_results WHERE basis_id <> (
      SELECT max(assessment_id) FROM assessments
      WHERE assessments.visit_id = staged_results.visit_id AND assessments.basis_id IS NULL)`.execute(
      transaction,
    );
    const allLeft = { ...left, assessedMeanwhile: Number(overtaken.numAffectedRows ?? 0) };
    const now = new Date().toISOString();
    const { recompute_id } = await transaction
      .insertInto('recomputes')
      .values({
        calibration_id: kept.calibrationId,
        calibration: kept.label,
        started_at: startedAt,
        completed_at: now,
        asked_by: askedBy,
        left_json: JSON.stringify(allLeft),
      })
      .returning('recompute_id')
      .executeTakeFirstOrThrow();
    const stored = await sql`
      INSERT INTO assessments (visit_id, created_at, program, verdict, decisions_json, settings_json, inputs_json,
        inputs_sha256, result_json, summary_json, basis_id, recompute_id)
      SELECT visit_id, ${now}, ${PROGRAM}, verdict, decisions_json, settings_json, inputs_json,
        inputs_sha256, result_json, summary_json, basis_id, ${recompute_id}
      FROM staged_results ORDER BY visit_id`.execute(transaction);
    const recomputed = Number(stored.numAffectedRows ?? 0);
    await refreshRecomputed(transaction, recompute_id, recomputed);
    await appendTrail(transaction, {
      action: 'recompute',
      subject: `${recomputed} results under ${kept.label}`,
      who: askedBy,
      after: { recomputeId: recompute_id, recomputed, ...allLeft, failed: allLeft.failed.length },
    });
    return { state: 'completed', recomputeId: recompute_id, recomputed, left: allLeft };
  });
}

/** Visits whose rows of the register are brought up to date with the results themselves: a second or so, in which others wait. */
const MOST_REFRESHED = 2000;

/** Of more visits, the register is brought up to date afterwards, step by step; until then it says how many it lacks. */
async function refreshRecomputed(transaction: Db, recomputeId: number, recomputed: number): Promise<void> {
  if (recomputed > MOST_REFRESHED) return;
  const visits = await transaction
    .selectFrom('assessments')
    .select('visit_id')
    .where('recompute_id', '=', recomputeId)
    .execute();
  await refreshVisits(
    transaction,
    visits.map(({ visit_id }) => visit_id),
  );
}
