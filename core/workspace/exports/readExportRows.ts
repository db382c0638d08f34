import type { Kysely } from 'kysely';
import type { RegisterRow } from '../contract.ts';
import { buildRows, type VisitEntry } from '../register/buildRows.ts';
import { readSummary } from '../register/readGrowth.ts';
import { listRulings } from '../rulings.repository.ts';
import type { Tables } from '../tables.ts';
import { type Position, readPoleOfVisit, readPosition } from './readPoleOfVisit.ts';

type Db = Kysely<Tables>;

export type RowOfVisit = { readonly row: RegisterRow };

/** A row of the register, and where the pole stands, as this visit or else the one before tells it; null where none does. */
export type ExportRow = RowOfVisit & { readonly position: Position | null };

/** Rows as they come: all at once, or part by part. */
export type Parts<T> = Iterable<readonly T[]> | AsyncIterable<readonly T[]>;

/** Poles read at once: what the whole export holds in memory, whatever the size of the workspace. */
const POLES_A_PART = 500;

/** Every visit of a workspace in parts of whole poles, poles in the order in which they came in, the visits of each by date. */
export async function* readExportRows(db: Db): AsyncGenerator<ExportRow[]> {
  for (let last = 0; ; ) {
    const poles = await db
      .selectFrom('poles')
      .select(['pole_id', 'code'])
      .where('pole_id', '>', last)
      .orderBy('pole_id')
      .limit(POLES_A_PART)
      .execute();
    if (poles.length === 0) return;
    const upTo = poles.at(-1)!.pole_id;
    const nameOf = new Map(poles.map(({ pole_id, code }) => [pole_id, code]));
    yield await readPart(db, { after: last, upTo }, nameOf);
    last = upTo;
  }
}

async function readPart(
  db: Db,
  { after, upTo }: { after: number; upTo: number },
  nameOf: ReadonlyMap<number, string>,
): Promise<ExportRow[]> {
  const visits = await db
    .selectFrom('visits')
    .select(['visit_id', 'pole_id', 'measured_on', 'file_bytes'])
    .where('pole_id', '>', after)
    .where('pole_id', '<=', upTo)
    .orderBy('visit_id')
    .execute();
  const ids = visits.map((visit) => visit.visit_id);
  if (ids.length === 0) return [];
  const recordings = await db
    .selectFrom('visit_recordings')
    .select(['visit_id', 'recording_sha256'])
    .where('visit_id', 'in', ids)
    .execute();
  const results = await db
    .selectFrom('assessments')
    .select(['visit_id', 'assessment_id', 'summary_json'])
    .where('assessment_id', 'in', (query) =>
      query
        .selectFrom('assessments')
        .select(({ fn }) => fn.max('assessment_id').as('latest'))
        .where('visit_id', 'in', ids)
        .groupBy('visit_id'),
    )
    .execute();
  const hashesOf = Map.groupBy(recordings, (row) => row.visit_id);
  const resultOf = new Map(results.map((row) => [row.visit_id, row]));
  const rulingsOf = Map.groupBy(await listRulings(db, { visitIds: ids }), (row) => row.visitId);

  const positions = new Map<number, Position | null>();
  const byPole = new Map<number, VisitEntry[]>();
  for (const row of visits) {
    const pole = readPoleOfVisit(row.file_bytes);
    positions.set(row.visit_id, readPosition(pole));
    const result = resultOf.get(row.visit_id);
    const entry: VisitEntry = {
      facts: {
        visitId: row.visit_id,
        poleId: nameOf.get(row.pole_id)!,
        date: row.measured_on,
        species: pole.species,
        classCode: pole.classCode ?? null,
        lengthM: pole.lengthM,
        recordings: (hashesOf.get(row.visit_id) ?? []).map((own) => own.recording_sha256),
      },
      assessmentId: result?.assessment_id ?? null,
      summary: result ? await readSummary(db, result) : null,
      rulings: (rulingsOf.get(row.visit_id) ?? []).map(({ ruling }) => ruling),
    };
    byPole.set(row.pole_id, [...(byPole.get(row.pole_id) ?? []), entry]);
  }
  return [...byPole.values()].flatMap((entries) => {
    let position: Position | null = null;
    return buildRows(entries).map((row) => {
      position = positions.get(row.visitId) ?? position;
      return { row, position };
    });
  });
}
