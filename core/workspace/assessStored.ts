import type { Kysely } from 'kysely';
import { type AnalysedVisit, type AssessmentOutcome, analyseVisit, concludeVisit } from '../assess.ts';
import type { AssessmentFailure } from '../assessment.ts';
import { type Decision, sortDecisions } from '../decisions.ts';
import { StemrootError } from '../errors.ts';
import type { PoleChange } from '../inference/index.ts';
import type { VisitFile } from '../recording/index.ts';
import { predictChange, type WhatIf } from '../whatIf.ts';
import {
  composeAssessment,
  findSameAssessment,
  insertAssessment,
  type NewAssessment,
} from './assessments.repository.ts';
import { findCalibrationInForce } from './calibration/calibrations.repository.ts';
import { findProfileOfVisit, giveRequirement } from './calibration/profiles.repository.ts';
import { RecentCache } from './recentCache.ts';
import type { RecordingReader } from './recordingReader.ts';
import { refuseNewerResult } from './refuseOvertaken.ts';
import { refreshVisits } from './register/refreshPoles.ts';
import { requireWritable } from './requireWritable.ts';
import type { Store } from './store.ts';
import type { Tables } from './tables.ts';
import { appendTrail } from './trail/index.ts';
import { getVisit, listRecordingsOfVisit } from './visits.repository.ts';

/** Analysed visits kept in memory while an analyst moves picks; each holds its decoded recordings. */
const KEPT_VISITS = 3;

/** What of an outcome goes to the store and to the doors. */
type StoredOutcome = Pick<AssessmentOutcome, 'assessment' | 'picture'>;

type AssessOptions = {
  unlessThere?: boolean | undefined;
  seenAssessmentId?: number | null | undefined;
};

export type StoredAssessor = {
  /** Runs the chain over a stored visit without storing anything. */
  tryPicks(visitId: number, decisions: readonly Decision[]): Promise<StoredOutcome>;
  /** The frequencies of a stored visit's pole, changed in thought. */
  predictChange(
    visitId: number,
    decisions: readonly Decision[],
    change: PoleChange,
    maximumHz: number,
  ): Promise<WhatIf>;
  /** A stored visit as analysed before any decision on picks. @param decisions - on strikes and priors; others are ignored */
  analyse(visitId: number, decisions?: readonly Decision[]): Promise<AnalysedVisit>;
  /**
   * Runs the chain over a stored visit and stores its result, also where the chain fails; then throws why.
   * @param options.unlessThere - store nothing where a result of the same inputs is there already, which is looked up within the
   * transaction that would store it @default false
   * @param options.seenAssessmentId - the result that stood when the decisions were made; absent: nobody looked
   * @throws StoreError `store.conflict` where another result stands than was seen
   */
  assess(
    visitId: number,
    decisions: readonly Decision[],
    options?: AssessOptions,
  ): Promise<StoredOutcome & { assessmentId: number }>;
};

export function createStoredAssessor(store: Store, reader: Pick<RecordingReader, 'readAll'>): StoredAssessor {
  const { db } = store;
  const undecided = new RecentCache<number, AnalysedVisit>(KEPT_VISITS);
  const decided = new RecentCache<string, AnalysedVisit>(KEPT_VISITS);

  const read = (visitId: number) =>
    undecided.get(visitId, async () => {
      const { fileName, visit } = await getVisit(db, visitId);
      return analyseVisit({ visitName: fileName, visit, recordings: await reader.readAll(visitId) });
    });

  const analyse = async (visitId: number, decisions: readonly Decision[] = []) => {
    const first = await read(visitId);
    const { strikes, priors } = sortDecisions(decisions);
    if (strikes.length === 0 && priors.length === 0) return first;
    return decided.get(JSON.stringify([visitId, strikes, priors]), () =>
      analyseVisit(first.input, decisions, first.judgement),
    );
  };

  /** What a visit is concluded by: the calibration in force, and the loads of the pole's profile where the visit states none. */
  const findTerms = async (visitId: number, visit: VisitFile) => {
    const { calibration, sha256 } = await findCalibrationInForce(db);
    const inUse = await findProfileOfVisit(db, visitId);
    const isGiven = giveRequirement(visit, inUse) !== visit;
    return { calibration, calibrationSha256: sha256, profile: isGiven ? inUse : undefined };
  };

  const conclude = async (
    visitId: number,
    decisions: readonly Decision[],
    { calibration, profile }: Awaited<ReturnType<typeof findTerms>>,
  ) => {
    const analysed = await analyse(visitId, decisions);
    const input = { ...analysed.input, visit: giveRequirement(analysed.input.visit, profile) };
    return concludeVisit({ ...analysed, input }, decisions, calibration);
  };

  const keep = (added: NewAssessment, { unlessThere, seenAssessmentId }: AssessOptions) => {
    const row = composeAssessment(added);
    return db.transaction().execute(async (transaction) => {
      const same = unlessThere ? await findSameAssessment(transaction, row) : null;
      if (same !== null) return same;
      if (seenAssessmentId !== undefined) await refuseOvertaken(transaction, added.visitId, seenAssessmentId);
      const assessmentId = await insertAssessment(transaction, row);
      await refreshVisits(transaction, [added.visitId]);
      await appendTrail(transaction, {
        action: 'assess',
        subject: `visit ${added.visitId}, pole ${added.result.poleId}`,
        after: { assessmentId, verdict: added.result.verdict, decisions: added.decisions },
      });
      return assessmentId;
    });
  };

  return {
    analyse,
    async tryPicks(visitId, decisions) {
      const { visit } = await getVisit(db, visitId);
      const { assessment, picture } = await conclude(visitId, decisions, await findTerms(visitId, visit));
      return { assessment, picture };
    },
    async predictChange(visitId, decisions, change, maximumHz) {
      return predictChange(await analyse(visitId, decisions), decisions, change, maximumHz);
    },
    async assess(visitId, decisions, options = {}) {
      requireWritable(store);
      // looked at before the work too, so that nobody waits for what is refused
      if (options.seenAssessmentId !== undefined)
        await refuseOvertaken(db, visitId, options.seenAssessmentId);
      const stored = await getVisit(db, visitId);
      const terms = await findTerms(visitId, stored.visit);
      const inputs = {
        visitId,
        calibrationSha256: terms.calibrationSha256,
        profileId: terms.profile?.profileId ?? null,
        visitFileSha256: stored.fileSha256,
        recordings: await listRecordingsOfVisit(db, visitId),
        decisions,
      };
      let outcome: AssessmentOutcome;
      try {
        outcome = await conclude(visitId, decisions, terms);
      } catch (error) {
        if (!(error instanceof StemrootError)) throw error;
        const result = describeFailure(stored.fileName, stored.visit.pole.id, error);
        await keep({ ...inputs, result, picture: null }, options);
        throw error;
      }
      const { assessment, picture } = outcome;
      const assessmentId = await keep({ ...inputs, result: assessment, picture }, options);
      return { assessmentId, assessment, picture };
    },
  };
}

async function refuseOvertaken(db: Kysely<Tables>, visitId: number, seenId: number | null): Promise<void> {
  const { visit } = await getVisit(db, visitId);
  const subject = `The result of pole ${visit.pole.id}, visit of ${visit.measured.date},`;
  await refuseNewerResult(db, subject, visitId, seenId);
}

/** The result line of a visit that could not be assessed. */
export function describeFailure(
  visit: string,
  poleId: string | null,
  { code, message, hint }: StemrootError,
): AssessmentFailure {
  return { visit, poleId, verdict: 'failed', error: { code, message, hint } };
}
