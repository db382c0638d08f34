import { assessWaiting, importFiles, openBatchDesk } from '../importAndAssess.ts';
import { findVisitFiles } from '../visitFiles.ts';
import { print } from './print.ts';

/**
 * Imports visits into a workspace, which is made where it is missing, on all cores. What an import that was broken off
 * had stored stays; the same command goes on from there. @returns 1 where some visit failed
 */
export async function runImport(
  workspace: string,
  paths: readonly string[],
  options: { assess?: boolean },
): Promise<number> {
  const outcomes = await importFiles(workspace, findVisitFiles(paths));
  const nameOf = new Map<number, string>();
  for (const { file, status, error, visitId } of outcomes) {
    if (visitId !== null) nameOf.set(visitId, file);
    const told = error ? `failed. ${error.message} ${error.hint}` : status;
    print(`${file}: ${told}`);
  }
  let failed = outcomes.filter((outcome) => outcome.status === 'failed').length;
  if (options.assess) {
    const desk = openBatchDesk(workspace);
    try {
      const refused = await assessWaiting(desk, new Set(nameOf.keys()));
      for (const { visitId, message, hint } of refused) {
        print(`${nameOf.get(visitId)}: not assessed. ${message} ${hint}`);
      }
      failed += refused.length;
    } finally {
      await desk.close();
    }
  }
  return failed > 0 ? 1 : 0;
}
