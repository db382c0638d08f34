import type { Kysely } from 'kysely';
import { InputError } from '../errors.ts';
import { parseVisitFile, type VisitFile } from '../recording/index.ts';
import type { PackedRecording } from './compression.ts';
import type { Tables } from './tables.ts';

type Db = Kysely<Tables>;

export type StoredVisit = {
  visitId: number;
  fileName: string;
  fileSha256: string;
  visit: VisitFile;
};

export type NewRecording = {
  sha256: string;
  sizeBytes: number;
  /** null: the workspace has the recording already. */
  packed: PackedRecording | null;
};

export type NewVisit = {
  fileName: string;
  fileBytes: Uint8Array;
  fileSha256: string;
  contentsSha256: string;
  visit: VisitFile;
  recordings: readonly (NewRecording & { fileName: string })[];
};

/** Decodes and checks the bytes of a visit file. */
export function decodeVisitFile(bytes: Uint8Array, fileName: string): VisitFile {
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new InputError(
      'visit.encoding',
      `${fileName} holds bytes that are no UTF-8 text; a visit file is JSON in UTF-8.`,
      'Save the file again as UTF-8.',
    );
  }
  return parseVisitFile(text, fileName);
}

/** Identity of a stored visit with the same file and the same recordings, if there is one. */
export async function findVisitByContents(db: Db, contentsSha256: string): Promise<number | null> {
  const row = await db
    .selectFrom('visits')
    .select('visit_id')
    .where('contents_sha256', '=', contentsSha256)
    .executeTakeFirst();
  return row?.visit_id ?? null;
}

/** Identities of the visits that have no result, not even a failed one, in the order in which they came in. */
export async function listWaitingVisits(db: Db): Promise<number[]> {
  const rows = await db
    .selectFrom('visits')
    .select('visit_id')
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('assessments')
            .select('assessment_id')
            .whereRef('assessments.visit_id', '=', 'visits.visit_id'),
        ),
      ),
    )
    .orderBy('visit_id')
    .execute();
  return rows.map((row) => row.visit_id);
}

/** True where a visit has a result, if only a failed one. */
export async function hasResult(db: Db, visitId: number): Promise<boolean> {
  const row = await db
    .selectFrom('assessments')
    .select('assessment_id')
    .where('visit_id', '=', visitId)
    .limit(1)
    .executeTakeFirst();
  return row !== undefined;
}

/** Stores a visit with its pole and recordings; to be called within a transaction. */
export async function insertVisit(db: Db, added: NewVisit, now: string): Promise<number> {
  await db
    .insertInto('poles')
    .values({ code: added.visit.pole.id, first_seen_at: now })
    .onConflict((conflict) => conflict.column('code').doNothing())
    .execute();
  const { pole_id } = await db
    .selectFrom('poles')
    .select('pole_id')
    .where('code', '=', added.visit.pole.id)
    .executeTakeFirstOrThrow();
  const { visit_id } = await db
    .insertInto('visits')
    .values({
      pole_id,
      file_name: added.fileName,
      measured_on: added.visit.measured.date,
      file_bytes: added.fileBytes,
      file_sha256: added.fileSha256,
      contents_sha256: added.contentsSha256,
      imported_at: now,
    })
    .returning('visit_id')
    .executeTakeFirstOrThrow();
  for (const [position, recording] of added.recordings.entries()) {
    await insertRecording(db, recording, now);
    await db
      .insertInto('visit_recordings')
      .values({ visit_id, position, file_name: recording.fileName, recording_sha256: recording.sha256 })
      .execute();
  }
  return visit_id;
}

async function insertRecording(
  db: Db,
  { sha256, sizeBytes, packed }: NewRecording,
  now: string,
): Promise<void> {
  if (packed === null || (await hasRecording(db, sha256))) return;
  const { encoding, pieces } = packed;
  const [first, ...further] = pieces;
  await db
    .insertInto('recordings')
    .values({ sha256, size_bytes: sizeBytes, encoding, compressed_bytes: first!, imported_at: now })
    .execute();
  for (const [i, compressed_bytes] of further.entries()) {
    await db
      .insertInto('recording_pieces')
      .values({ sha256, position: i + 1, compressed_bytes })
      .execute();
  }
}

/** Whether a recording is there; once it is, it stays. */
export async function hasRecording(db: Db, sha256: string): Promise<boolean> {
  const row = await db
    .selectFrom('recordings')
    .select('sha256')
    .where('sha256', '=', sha256)
    .executeTakeFirst();
  return row !== undefined;
}

export async function getVisit(db: Db, visitId: number): Promise<StoredVisit> {
  const row = await db
    .selectFrom('visits')
    .select(['file_name', 'file_bytes', 'file_sha256'])
    .where('visit_id', '=', visitId)
    .executeTakeFirst();
  if (!row) throw unknownVisit(visitId);
  return {
    visitId,
    fileName: row.file_name,
    fileSha256: row.file_sha256,
    visit: decodeVisitFile(row.file_bytes, row.file_name),
  };
}

export async function listRecordingsOfVisit(
  db: Db,
  visitId: number,
): Promise<{ fileName: string; sha256: string }[]> {
  const rows = await db
    .selectFrom('visit_recordings')
    .select(['file_name', 'recording_sha256'])
    .where('visit_id', '=', visitId)
    .orderBy('position')
    .execute();
  return rows.map((row) => ({ fileName: row.file_name, sha256: row.recording_sha256 }));
}

/** The error of asking for a visit that is not there. */
export function unknownVisit(visitId: number): InputError {
  return new InputError(
    'visit.unknown',
    `There is no visit ${visitId} in this workspace.`,
    'List the register for the visits that are there.',
  );
}

export type VisitOfPole = { visitId: number; date: string; file: string; importedAt: string };

/** Every visit to a pole, by date, files of the same day in the order in which they came in. */
export async function listVisitsOfPole(db: Db, poleCode: string): Promise<VisitOfPole[]> {
  const rows = await db
    .selectFrom('visits')
    .innerJoin('poles', 'poles.pole_id', 'visits.pole_id')
    .select(['visits.visit_id', 'visits.measured_on', 'visits.file_name', 'visits.imported_at'])
    .where('poles.code', '=', poleCode)
    .orderBy('visits.measured_on')
    .orderBy('visits.visit_id')
    .execute();
  return rows.map((row) => ({
    visitId: row.visit_id,
    date: row.measured_on,
    file: row.file_name,
    importedAt: row.imported_at,
  }));
}
