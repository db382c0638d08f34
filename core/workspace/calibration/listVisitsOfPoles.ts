import type { Kysely, SelectQueryBuilder } from 'kysely';
import type { Tables } from '../tables.ts';

/** A visit that a break test may be linked to. */
export type StoredVisit = { visitId: number; date: string; fileName: string; fileBytes: Uint8Array };

/** Visits to poles of these names, each pole's in the order of their dates. @param codes - a list or a query */
export async function listVisitsOfPoles(
  db: Kysely<Tables>,
  codes: readonly string[] | SelectQueryBuilder<Tables, 'break_tests', { pole_code: string }>,
): Promise<Map<string, StoredVisit[]>> {
  const visits = new Map<string, StoredVisit[]>();
  // PostgreSQL refuses a list of none
  if (Array.isArray(codes) && codes.length === 0) return visits;
  const rows = await db
    .selectFrom('visits')
    .innerJoin('poles', 'poles.pole_id', 'visits.pole_id')
    .select(['visits.visit_id', 'visits.measured_on', 'visits.file_name', 'visits.file_bytes', 'poles.code'])
    .where('poles.code', 'in', codes)
    .orderBy('visits.measured_on')
    .orderBy('visits.visit_id')
    .execute();
  for (const row of rows) {
    const visit = {
      visitId: row.visit_id,
      date: row.measured_on,
      fileName: row.file_name,
      fileBytes: row.file_bytes,
    };
    visits.set(row.code, [...(visits.get(row.code) ?? []), visit]);
  }
  return visits;
}
