import { basename } from 'node:path';
import { callService, createWorkspaceService, openStore } from '../../core/workspace/index.ts';
import { importFiles } from '../../host/importAndAssess.ts';
import { findVisitFiles } from '../../host/visitFiles.ts';

/**
 * Makes a workspace from visit files of the samples.
 * @param visitsFolder - where the samples are
 * @param poles - codes of the poles whose visits are taken; all of them where null
 * @param left - codes of the poles that are brought in but not assessed
 */
export async function makeWorkspace(
  path: string,
  visitsFolder: string,
  poles: readonly string[] | null,
  left: readonly string[] = [],
): Promise<void> {
  const store = openStore(path, { create: true });
  const files = findVisitFiles([visitsFolder]).filter(
    (file) => poles === null || poles.some((pole) => basename(file).startsWith(pole)),
  );
  const handlers = createWorkspaceService(store);
  for (const { visitId, poleId } of await importFiles(store, files)) {
    if (visitId === null || poleId === null || left.includes(poleId)) continue;
    const answer = await callService(handlers, 'visit.assess', { visitId, decisions: [] });
    if (!answer.ok) throw new Error(`${poleId}: ${answer.message}`);
  }
  await store.close();
}
