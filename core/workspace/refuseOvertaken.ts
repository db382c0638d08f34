import type { Kysely } from 'kysely';
import type { Ruling } from './contract.ts';
import { listRulingsOfVisit } from './rulings.repository.ts';
import type { Tables } from './tables.ts';
import { type StandsNow, tellConflict } from './tellConflict.ts';
import { findWriter } from './trail/index.ts';

type Db = Kysely<Tables>;

/**
 * Refuses what somebody decided looking at a result that is no longer the latest of its visit.
 * @param subject - the result, in words
 * @param seenId - the one that was looked at; null: none was there
 * @throws StoreError `store.conflict`
 */
export async function refuseNewerResult(
  db: Db,
  subject: string,
  visitId: number,
  seenId: number | null,
): Promise<void> {
  const latest = await db
    .selectFrom('assessments')
    .select((eb) => eb.fn.max('assessment_id').as('id'))
    .where('visit_id', '=', visitId)
    .executeTakeFirst();
  const latestId = latest?.id ?? null;
  if (latestId === seenId) return;
  const by = latestId === null ? undefined : await findWriter(db, 'assessments', latestId);
  throw tellConflict(subject, await describeResult(db, seenId), {
    words: await describeResult(db, latestId),
    ...by,
  });
}

async function describeResult(db: Db, assessmentId: number | null): Promise<string> {
  if (assessmentId === null) return 'none';
  const row = await db
    .selectFrom('assessments')
    .select(['verdict', 'decisions_json'])
    .where('assessment_id', '=', assessmentId)
    .executeTakeFirst();
  if (!row) return `assessment ${assessmentId}, which is not in this workspace`;
  const decisions = JSON.parse(row.decisions_json).length;
  return `assessment ${assessmentId}, ${row.verdict}, with ${decisions} decision${decisions === 1 ? '' : 's'} of an analyst`;
}

/**
 * Refuses a ruling made looking at another ruling than stands now.
 * @param subject - the ruling, in words
 * @param seenId - the one that stood; null: none
 * @throws StoreError `store.conflict`
 */
export async function refuseOtherRuling(
  db: Db,
  subject: string,
  visitId: number,
  seenId: number | null,
): Promise<void> {
  const rulings = await listRulingsOfVisit(db, visitId);
  const standing = rulings.find(({ withdrawn }) => withdrawn === null);
  if ((standing?.rulingId ?? null) === seenId) return;
  const seen = rulings.find(({ rulingId }) => rulingId === seenId);
  throw tellConflict(subject, seen ? describeRuling(seen) : 'none', describeStanding(standing, seen));
}

function describeStanding(standing: Ruling | undefined, seen: Ruling | undefined): StandsNow {
  if (standing) {
    return {
      words: `“${standing.decision}” (${standing.reason})`,
      by: standing.analyst,
      at: standing.decidedAt,
    };
  }
  return { words: 'withdrawn', by: seen?.withdrawn?.person, at: seen?.withdrawn?.markedAt };
}

function describeRuling({ decision, analyst, reason }: Ruling): string {
  return `“${decision}” by ${analyst} (${reason})`;
}
