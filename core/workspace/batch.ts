/** A batch: visits brought in one after another. A door of its own, since each of its threads loads what it draws in. */
import { giveBackMemory } from '../giveBackMemory.ts';
import type { CalibratedRecording } from '../recording/index.ts';
import { createStoredAssessor } from './assessStored.ts';
import { type ImportOutcome, importVisit, type VisitSource } from './importVisit.ts';
import { createRecordingReader } from './recordingReader.ts';
import { toRefusal } from './refusal.ts';
import type { Store } from './store.ts';
import { toStoreError } from './storeErrors.ts';
import { hasResult } from './visits.repository.ts';

export { describeFailure } from './assessStored.ts';
export type { VisitSource } from './importVisit.ts';
export { openWorkspace } from './openWorkspace.ts';
export type { Store } from './store.ts';
export { decodeVisitFile } from './visits.repository.ts';

/** What came of a visit of a batch; `refused` says why it was to be assessed and could not be. */
export type BroughtIn = {
  readonly outcome: ImportOutcome;
  readonly refused: { readonly message: string; readonly hint: string } | null;
};

/** Pages of the write-ahead log (32 MB) before it is written into the file, instead of 1000: a batch fills those with four visits. */
const LOG_PAGES = 8000;

/**
 * Brings in visits one after another over one store, and assesses those that have no result yet with the recordings at hand. Each
 * step is stored as it ends, a failure as failed: a batch that was broken off is taken up where it stopped by bringing in the same again.
 */
export function createBatch(
  store: Store,
): (source: VisitSource, options: { readonly assess: boolean }) => Promise<BroughtIn> {
  if (store.kind === 'file') {
    // Waiting for the disk takes a tenth of the time. Where power fails meanwhile the last visits may be missing, nothing else: they come
    // in with the same batch again, and what is there when the batch ends is on the disk (sqlite.org, "PRAGMA synchronous").
    store.database.pragma('synchronous = NORMAL');
    store.database.pragma(`wal_autocheckpoint = ${LOG_PAGES}`);
  }
  return async (source, { assess }) => {
    // of this visit alone: what is kept for a next question would be taken for long-lived, which is dear to collect
    const reader = createRecordingReader(store);
    const assessor = createStoredAssessor(store, reader);
    const decoded: CalibratedRecording[] = [];
    const outcome = await importVisit(
      store,
      source,
      assess
        ? (visitId, recordings) => {
            reader.keep(visitId, recordings);
            decoded.push(...recordings);
          }
        : undefined,
    );
    const { visitId } = outcome;
    if (!assess || visitId === null || (await hasResult(store.db, visitId)))
      return { outcome, refused: null };
    try {
      await assessor.assess(visitId, []);
      return { outcome, refused: null };
    } catch (error) {
      return { outcome, refused: toRefusal(toStoreError(error, store.path), source.fileName) };
    } finally {
      for (const { channels } of decoded)
        for (const { samplesMPerS2 } of channels) giveBackMemory(samplesMPerS2);
    }
  };
}
