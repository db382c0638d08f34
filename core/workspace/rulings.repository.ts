import type { Kysely } from 'kysely';
import { InputError } from '../errors.ts';
import type { Ruling } from './contract.ts';
import { isOneOf } from './sqlWords.ts';
import type { Tables } from './tables.ts';

type Db = Kysely<Tables>;
type Mark = Tables['ruling_marks']['kind'];

export type NewRuling = Pick<Ruling, 'analyst' | 'decision' | 'reason'> & {
  visitId: number;
  assessmentId: number | null;
};

/** Stores a ruling. @returns its identity */
export async function insertRuling(db: Db, added: NewRuling, now: string): Promise<number> {
  const { ruling_id } = await db
    .insertInto('rulings')
    .values({
      visit_id: added.visitId,
      assessment_id: added.assessmentId,
      decided_at: now,
      analyst: added.analyst,
      decision: added.decision,
      reason: added.reason,
    })
    .returning('ruling_id')
    .executeTakeFirstOrThrow();
  return ruling_id;
}

/** Adds a second signature to a ruling, or takes the ruling back; each can happen once. */
export async function markRuling(
  db: Db,
  rulingId: number,
  kind: Mark,
  person: string,
  now: string,
): Promise<void> {
  await db.insertInto('ruling_marks').values({ ruling_id: rulingId, kind, marked_at: now, person }).execute();
}

/** Rulings with the visit of each, the latest first. */
export type RulingOfVisit = { visitId: number; ruling: Ruling };

/**
 * Rulings with their marks, the latest first.
 * @param which - of one visit or several, or one of them by its identity, or those after an identity; all where left out
 */
export async function listRulings(
  db: Db,
  which: { visitId?: number; visitIds?: readonly number[]; rulingId?: number; after?: number } = {},
): Promise<RulingOfVisit[]> {
  let query = db
    .selectFrom('rulings')
    .leftJoin('ruling_marks as signature', (join) =>
      join.onRef('signature.ruling_id', '=', 'rulings.ruling_id').on('signature.kind', '=', 'signed'),
    )
    .leftJoin('ruling_marks as withdrawal', (join) =>
      join.onRef('withdrawal.ruling_id', '=', 'rulings.ruling_id').on('withdrawal.kind', '=', 'withdrawn'),
    )
    .selectAll('rulings')
    .select([
      'signature.person as signed_by',
      'signature.marked_at as signed_at',
      'withdrawal.person as withdrawn_by',
      'withdrawal.marked_at as withdrawn_at',
    ])
    .orderBy('rulings.ruling_id', 'desc');
  if (which.visitId !== undefined) query = query.where('rulings.visit_id', '=', which.visitId);
  if (which.visitIds !== undefined) query = query.where(isOneOf(db, 'rulings.visit_id', which.visitIds));
  if (which.rulingId !== undefined) query = query.where('rulings.ruling_id', '=', which.rulingId);
  if (which.after !== undefined) query = query.where('rulings.ruling_id', '>', which.after);
  return (await query.execute()).map((row) => ({
    visitId: row.visit_id,
    ruling: {
      rulingId: row.ruling_id,
      decidedAt: row.decided_at,
      analyst: row.analyst,
      decision: row.decision as Ruling['decision'],
      reason: row.reason,
      assessmentId: row.assessment_id,
      signed: readMark(row.signed_by, row.signed_at),
      withdrawn: readMark(row.withdrawn_by, row.withdrawn_at),
    },
  }));
}

function readMark(person: string | null, markedAt: string | null): Ruling['signed'] {
  return person === null || markedAt === null ? null : { person, markedAt };
}

/** Rulings of one visit, the latest first, with the reasons for which they were withdrawn. */
export async function listRulingsOfVisit(db: Db, visitId: number): Promise<Ruling[]> {
  const rulings: Ruling[] = [];
  for (const { ruling } of await listRulings(db, { visitId })) {
    const reason = ruling.withdrawn && (await findReasonOfWithdrawal(db, ruling.rulingId));
    rulings.push(reason ? { ...ruling, withdrawn: { ...ruling.withdrawn!, reason } } : ruling);
  }
  return rulings;
}

/** The trail alone has it: a signature, the other thing that it tells of a ruling, is given without a reason. */
async function findReasonOfWithdrawal(db: Db, rulingId: number): Promise<string | null> {
  const entry = await db
    .selectFrom('trail')
    .select('why')
    .where('subject', '=', `ruling ${rulingId}`)
    .where('why', 'is not', null)
    .executeTakeFirst();
  return entry?.why ?? null;
}

/** One ruling by its identity. @throws InputError `ruling.unknown` */
export async function getRuling(db: Db, rulingId: number): Promise<RulingOfVisit> {
  const [found] = await listRulings(db, { rulingId });
  if (found) return found;
  throw new InputError(
    'ruling.unknown',
    `There is no ruling ${rulingId} in this workspace.`,
    'Open the visit again for the rulings that are there.',
  );
}
