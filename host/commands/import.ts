import {
  createWorkspaceService,
  type Handlers,
  type ImportOutcome,
  openStore,
} from '../../core/workspace/index.ts';
import { assessVisits, importFiles } from '../importAndAssess.ts';
import { findVisitFiles } from '../visitFiles.ts';

/** Imports visits into a workspace, which is made where it is missing. @returns 1 where some visit failed */
export async function runImport(
  workspace: string,
  paths: readonly string[],
  options: { assess?: boolean },
): Promise<number> {
  const files = findVisitFiles(paths);
  const store = openStore(workspace, { create: true });
  try {
    const outcomes = await importFiles(store, files);
    for (const { file, status, error } of outcomes) {
      if (error) process.stdout.write(`${file}: failed. ${error.message} ${error.hint}\n`);
      else process.stdout.write(`${file}: ${status}\n`);
    }
    let failed = outcomes.filter((outcome) => outcome.status === 'failed').length;
    if (options.assess) failed += await assessNew(createWorkspaceService(store), outcomes);
    return failed > 0 ? 1 : 0;
  } finally {
    await store.close();
  }
}

/** Assesses those of the imported visits that have no result yet, also from an import that was broken off. */
async function assessNew(handlers: Handlers, outcomes: readonly ImportOutcome[]): Promise<number> {
  const { rows } = await handlers['register.list']({});
  const waiting = new Set(rows.filter((row) => row.verdict === 'not assessed').map((row) => row.visitId));
  const visitIds = outcomes.flatMap(({ visitId }) =>
    visitId !== null && waiting.has(visitId) ? [visitId] : [],
  );
  return assessVisits(handlers, [...new Set(visitIds)]);
}
