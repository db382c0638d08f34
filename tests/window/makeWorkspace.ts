import { basename } from 'node:path';
import { assessWaiting, importFiles, openBatchDesk } from '../../host/importAndAssess.ts';
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
  const files = findVisitFiles([visitsFolder]).filter(
    (file) => poles === null || poles.some((pole) => basename(file).startsWith(pole)),
  );
  const outcomes = await importFiles(path, files);
  const desk = await openBatchDesk(path);
  const wanted = outcomes.flatMap(({ visitId, poleId }) =>
    visitId === null || poleId === null || left.includes(poleId) ? [] : [visitId],
  );
  const {
    failed: [failed],
  } = await assessWaiting(desk, new Set(wanted));
  if (failed) throw new Error(`Visit ${failed.visitId}: ${failed.message}`);
  await desk.close();
}
