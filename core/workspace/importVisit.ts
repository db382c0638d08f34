import { InputError, StemrootError } from '../errors.ts';
import { hashSha256 } from '../hashSha256.ts';
import { type CalibratedRecording, readCalibrated, type VisitFile } from '../recording/index.ts';
import { reportError } from '../reportError.ts';
import { packRecording } from './compression.ts';
import type { CallResponse } from './contract.ts';
import { readSharers } from './register/readSharers.ts';
import { refreshVisits } from './register/refreshPoles.ts';
import { tellSharer } from './register/tellSharer.ts';
import type { Store } from './store.ts';
import { toStoreError } from './storeErrors.ts';
import { appendTrail } from './trail/index.ts';
import {
  decodeVisitFile,
  findVisitByContents,
  hasRecording,
  insertVisit,
  type NewVisit,
} from './visits.repository.ts';

export type ImportOutcome = CallResponse<'visits.import'>['outcomes'][number];

/** A visit file as found, and a way to the recordings that lie beside it. */
export type VisitSource = {
  fileName: string;
  readVisitFile: () => Uint8Array;
  /** Bytes of a recording by the name that the visit file gives; undefined where there is none. */
  readRecordingFile: (fileName: string) => Uint8Array | undefined;
};

/**
 * Stores one visit with all its recordings, or nothing of it. A visit whose file and recordings are the same, byte
 * for byte, as a stored one is left as it is. What is wrong with a visit is told in the outcome.
 * @param next - whoever works on with a new visit: takes its recordings as decoded, and brings its row in the register up to date
 * @throws whatever is no StemrootError
 */
export async function importVisit(
  store: Store,
  source: VisitSource,
  next?: (visitId: number, recordings: readonly CalibratedRecording[]) => void,
): Promise<ImportOutcome> {
  const file = source.fileName;
  let poleId: string | null = null;
  try {
    const fileBytes = source.readVisitFile();
    const visit = decodeVisitFile(fileBytes, file);
    poleId = visit.pole.id;
    const recordings = visit.recordings.map((entry) => collectRecording(entry, source));
    const fileSha256 = hashSha256(fileBytes);
    const contentsSha256 = hashSha256([fileSha256, ...recordings.map(({ sha256 }) => sha256)].join('\n'));
    const there = (visitId: number) =>
      ({ file, visitId, poleId, status: 'already there', error: null, caution: null }) as const;
    // looked for ahead of the work, and once more within the change
    const stored = await findVisitByContents(store.db, contentsSha256);
    if (stored !== null) return there(stored);
    const decoded = recordings.map(({ bytes }, i) => {
      const entry = visit.recordings[i]!;
      return readCalibrated(bytes, entry, entry.file);
    });
    const added = {
      ...{ fileName: file, fileBytes, fileSha256, contentsSha256, visit },
      recordings: await packNew(store, recordings),
    };
    const outcome = await store.db.transaction().execute(async (transaction): Promise<ImportOutcome> => {
      const known = await findVisitByContents(transaction, contentsSha256);
      if (known !== null) return there(known);
      const visitId = await insertVisit(transaction, added, new Date().toISOString());
      if (!next) await refreshVisits(transaction, [visitId]);
      await appendTrail(transaction, {
        action: 'import',
        subject: `visit ${visitId}, pole ${visit.pole.id}`,
        after: { file, contentsSha256 },
      });
      const sharer = (await readSharers(transaction, 'own.visit_id', [visitId])).get(visitId);
      const caution = sharer ? tellSharer(sharer).text : null;
      return { file, visitId, poleId, status: 'imported', error: null, caution };
    });
    next?.(outcome.visitId!, decoded);
    return outcome;
  } catch (caught) {
    const error = toStoreError(caught, store.path);
    const { code, message, hint } = error instanceof StemrootError ? error : describeOwnError(file, error);
    return { file, visitId: null, poleId, status: 'failed', error: { code, message, hint }, caution: null };
  }
}

/** Packs what the workspace does not have yet: before the change begins, since all who write wait for its end. */
async function packNew(
  { db }: Store,
  recordings: readonly { fileName: string; bytes: Uint8Array; sha256: string }[],
): Promise<NewVisit['recordings']> {
  const known = new Set<string>();
  const added: NewVisit['recordings'][number][] = [];
  for (const { fileName, bytes, sha256 } of recordings) {
    const isThere = known.has(sha256) || (await hasRecording(db, sha256));
    known.add(sha256);
    added.push({
      ...{ fileName, sha256, sizeBytes: bytes.length },
      packed: isThere ? null : packRecording(bytes),
    });
  }
  return added;
}

/** An error of the program's own over one file must not keep the others out. */
function describeOwnError(file: string, error: unknown): StemrootError {
  reportError(`${file} failed`, error);
  return new StemrootError(
    'internal',
    `The program met an error of its own over ${file}.`,
    'Report it with the visit file and what standard error says.',
  );
}

function collectRecording(entry: VisitFile['recordings'][number], source: VisitSource) {
  const bytes = source.readRecordingFile(entry.file);
  if (bytes === undefined) {
    throw new InputError(
      'visit.recording',
      `${source.fileName}, field recordings.file: there is no "${entry.file}" beside the visit file.`,
      'Put the recording into the folder of the visit file, or correct the name.',
    );
  }
  return { fileName: entry.file, bytes, sha256: hashSha256(bytes) };
}
