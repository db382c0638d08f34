import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import { createWorkspaceService, importVisit, openStore } from '../../core/workspace/index.ts';
import { makeCsv, makeSource, makeVisitFile } from './visitSources.ts';

export * from './visitSources.ts';

/** A folder that is gone after the test. */
export function makeFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A new workspace in a real file, closed after the test. */
export function makeStore() {
  const store = openStore(join(makeFolder(), 'test.stemroot'), { create: true });
  onTestFinished(() => store.close());
  return store;
}

/** A workspace with one imported visit, and its service. */
export async function makeWorkspace(poleId = 'TV-0001') {
  const store = makeStore();
  const source = makeSource(makeVisitFile(poleId), { [`${poleId}.csv`]: makeCsv() });
  const { visitId } = await importVisit(store, source);
  return { store, handlers: createWorkspaceService(store), visitId: visitId! };
}
