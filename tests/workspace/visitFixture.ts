import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inject, onTestFinished } from 'vitest';
import {
  createWorkspaceService,
  type FileStore,
  importVisit,
  openStore,
  type Store,
} from '../../core/workspace/index.ts';
import { makeDatabase, makeTeamStore } from '../team/makeTeamStore.ts';
import { makeCsv, makeSource, makeVisitFile } from './visitSources.ts';

export * from './visitSources.ts';

/** A folder that is gone after the test. */
export function makeFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** A new workspace of the kind that the run is about: a file or a team store; closed after the test. */
export async function makeStore(): Promise<Store> {
  return inject('engine') === 'team' ? makeTeamStore() : makeFileStore();
}

/** Where a new workspace of that kind is, for the test to open. */
export async function makePlace(): Promise<string> {
  if (inject('engine') === 'team') return makeDatabase();
  const path = join(makeFolder(), 'test.stemroot');
  await openStore(path, { create: true }).close();
  return path;
}

/** A new workspace in a real file, closed after the test. */
export function makeFileStore(): FileStore {
  const store = openStore(join(makeFolder(), 'test.stemroot'), { create: true });
  onTestFinished(() => store.close());
  return store;
}

/** A workspace with one imported visit, and its service. */
export async function makeWorkspace(poleId?: string) {
  return fillStore(await makeStore(), poleId);
}

/** The same in a file, whatever the run is about. */
export function makeFileWorkspace(poleId?: string) {
  return fillStore(makeFileStore(), poleId);
}

async function fillStore<S extends Store>(store: S, poleId = 'TV-0001') {
  const source = makeSource(makeVisitFile(poleId), { [`${poleId}.csv`]: makeCsv() });
  const { visitId } = await importVisit(store, source);
  return { store, handlers: createWorkspaceService(store), visitId: visitId! };
}
