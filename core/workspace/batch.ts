import { callService } from './callService.ts';
import { type ImportOutcome, importVisit, type VisitSource } from './importVisit.ts';
import { createRecordingReader } from './recordingReader.ts';
import { createWorkspaceService } from './service.ts';
import type { Store } from './store.ts';
import { hasResult } from './visits.repository.ts';

/** What came of a visit of a batch; `refused` says why it was to be assessed and could not be. */
export type BroughtIn = {
  readonly outcome: ImportOutcome;
  readonly refused: { readonly message: string; readonly hint: string } | null;
};

/**
 * Brings in visits one after another over one store, and assesses those that have no result yet with the recordings at hand. Each
 * step is stored as it ends, a failure as failed: a batch that was broken off is taken up where it stopped by bringing in the same again.
 */
export function createBatch(
  store: Store,
): (source: VisitSource, options: { readonly assess: boolean }) => Promise<BroughtIn> {
  const reader = createRecordingReader(store);
  const handlers = createWorkspaceService(store, reader);
  return async (source, { assess }) => {
    const outcome = await importVisit(store, source, reader.keep);
    const { visitId } = outcome;
    if (!assess || visitId === null || (await hasResult(store.db, visitId)))
      return { outcome, refused: null };
    const answer = await callService(handlers, 'visit.assess', { visitId, decisions: [] });
    return { outcome, refused: answer.ok ? null : { message: answer.message, hint: answer.hint } };
  };
}
