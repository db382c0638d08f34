import type { Kysely } from 'kysely';
import type { RegisterRow } from '../contract.ts';
import { readPosition, readStoredVisit } from '../register/readStoredVisit.ts';
import type { Tables } from '../tables.ts';
import type { ExportRow } from './readExportRows.ts';

const ROWS_A_PART = 500;

/** Puts beside rows of the register where each visit says that its pole stands, part by part. */
export async function* placeRows(
  db: Kysely<Tables>,
  rows: readonly RegisterRow[],
): AsyncGenerator<ExportRow[]> {
  for (let start = 0; start < rows.length; start += ROWS_A_PART) {
    const part = rows.slice(start, start + ROWS_A_PART);
    const visits = await db
      .selectFrom('visits')
      .select(['visit_id', 'file_bytes'])
      .where(
        'visit_id',
        'in',
        part.map((row) => row.visitId),
      )
      .execute();
    const positions = new Map(
      visits.map((visit) => [visit.visit_id, readPosition(readStoredVisit(visit.file_bytes).pole)]),
    );
    yield part.map((row) => ({ row, position: positions.get(row.visitId) ?? null }));
  }
}
