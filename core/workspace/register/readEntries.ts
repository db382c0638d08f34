import type { Kysely, Selectable } from 'kysely';
import { isGroundLineInspected } from '../../isGroundLineInspected.ts';
import type { VisitFile } from '../../recording/index.ts';
import { readStoredResult } from '../assessments.repository.ts';
import { listRulings } from '../rulings.repository.ts';
import { isOneOf } from '../sqlWords.ts';
import { isWholeSummary, type ResultSummary, summarise } from '../summarise.ts';
import type { Tables } from '../tables.ts';
import type { VisitEntry } from './buildRows.ts';
import { readSharers } from './readSharers.ts';
import { readStoredVisit } from './readStoredVisit.ts';

type Db = Kysely<Tables>;

/** A visit as stored, with the pole as its visit file tells it. */
export type StoredEntry = VisitEntry & { readonly poleNumber: number; readonly pole: VisitFile['pole'] };

/**
 * All that the rows of some poles are made of, in order of the visits' identities.
 * @param poleNumbers - identities of poles
 */
export async function readEntries(db: Db, poleNumbers: readonly number[]): Promise<StoredEntry[]> {
  if (poleNumbers.length === 0) return [];
  const visits = await db
    .selectFrom('visits')
    .innerJoin('poles', 'poles.pole_id', 'visits.pole_id')
    .select(['visit_id', 'visits.pole_id', 'code', 'measured_on', 'file_bytes'])
    .where(isOneOf(db, 'visits.pole_id', poleNumbers))
    .orderBy('visit_id')
    .execute();
  const ids = visits.map((visit) => visit.visit_id);
  if (ids.length === 0) return [];
  const recordings = await db
    .selectFrom('visit_recordings')
    .select(['visit_id', 'recording_sha256'])
    .where(isOneOf(db, 'visit_id', ids))
    .execute();
  const results = await db
    .selectFrom('assessments')
    .select(['visit_id', 'assessment_id', 'summary_json'])
    .where('assessment_id', 'in', (query) =>
      query
        .selectFrom('assessments')
        .select(({ fn }) => fn.max('assessment_id').as('latest'))
        .where(isOneOf(db, 'visit_id', ids))
        .groupBy('visit_id'),
    )
    .execute();
  const sharers = await readSharers(db, 'own.pole_id', poleNumbers);
  const hashesOf = Map.groupBy(recordings, (row) => row.visit_id);
  const resultOf = new Map(results.map((row) => [row.visit_id, row]));
  const rulingsOf = Map.groupBy(await listRulings(db, { visitIds: ids }), (row) => row.visitId);
  const entries: StoredEntry[] = [];
  for (const row of visits) {
    const { pole, measured } = readStoredVisit(row.file_bytes);
    const result = resultOf.get(row.visit_id);
    entries.push({
      poleNumber: row.pole_id,
      pole,
      facts: {
        visitId: row.visit_id,
        poleId: row.code,
        date: row.measured_on,
        species: pole.species,
        classCode: pole.classCode ?? null,
        lengthM: pole.lengthM,
        isGroundLineInspected: isGroundLineInspected({ measured }),
        recordings: (hashesOf.get(row.visit_id) ?? []).map((own) => own.recording_sha256),
        sharer: sharers.get(row.visit_id) ?? null,
      },
      assessmentId: result?.assessment_id ?? null,
      summary: result ? await readSummary(db, result) : null,
      rulings: (rulingsOf.get(row.visit_id) ?? []).map(({ ruling }) => ruling),
    });
  }
  return entries;
}

/** The stored summary of a result, or one made now where an earlier program kept less. */
async function readSummary(
  db: Db,
  row: Pick<Selectable<Tables['assessments']>, 'assessment_id' | 'summary_json'>,
): Promise<ResultSummary> {
  const stored = JSON.parse(row.summary_json) as Partial<ResultSummary>;
  return isWholeSummary(stored) ? stored : summarise(await readStoredResult(db, row.assessment_id));
}
