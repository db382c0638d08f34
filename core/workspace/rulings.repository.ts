import type { Kysely } from 'kysely';
import type { Ruling } from './contract.ts';
import type { Tables } from './tables.ts';

type Db = Kysely<Tables>;

export async function insertRuling(
  db: Db,
  visitId: number,
  ruling: Omit<Ruling, 'rulingId'>,
): Promise<Ruling> {
  const { ruling_id } = await db
    .insertInto('rulings')
    .values({
      visit_id: visitId,
      assessment_id: ruling.assessmentId,
      decided_at: ruling.decidedAt,
      analyst: ruling.analyst,
      decision: ruling.decision,
      reason: ruling.reason,
    })
    .returning('ruling_id')
    .executeTakeFirstOrThrow();
  return { rulingId: ruling_id, ...ruling };
}

/** Rulings by visit, the latest first; of one visit where `visitId` is given. */
export async function listRulings(db: Db, visitId?: number): Promise<Map<number, Ruling[]>> {
  let query = db.selectFrom('rulings').selectAll().orderBy('ruling_id', 'desc');
  if (visitId !== undefined) query = query.where('visit_id', '=', visitId);
  const byVisit = new Map<number, Ruling[]>();
  for (const row of await query.execute()) {
    const ruling: Ruling = {
      rulingId: row.ruling_id,
      decidedAt: row.decided_at,
      analyst: row.analyst,
      decision: row.decision as Ruling['decision'],
      reason: row.reason,
      assessmentId: row.assessment_id,
    };
    byVisit.set(row.visit_id, [...(byVisit.get(row.visit_id) ?? []), ruling]);
  }
  return byVisit;
}
