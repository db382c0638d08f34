import { assessWaiting, importFiles, openBatchDesk } from '../importAndAssess.ts';
import { stopOnInterrupt } from '../stopOnInterrupt.ts';
import { findVisitFiles } from '../visitFiles.ts';
import { print } from './print.ts';

/**
 * Imports visits into a workspace, which is made where it is missing, on all cores. What an import that was broken off
 * had stored stays; the same command goes on from there.
 * @returns 1 where some visit failed, or where it was broken off by Ctrl-C
 */
export async function runImport(
  workspace: string,
  paths: readonly string[],
  options: { assess?: boolean },
): Promise<number> {
  return stopOnInterrupt(async (signal) => {
    const files = findVisitFiles(paths);
    const outcomes = await importFiles(workspace, files, { signal });
    const nameOf = new Map<number, string>();
    for (const { file, status, error, visitId } of outcomes) {
      if (visitId !== null) nameOf.set(visitId, file);
      const told = error ? `failed. ${error.message} ${error.hint}` : status;
      print(`${file}: ${told}`);
    }
    let failed = outcomes.filter((outcome) => outcome.status === 'failed').length;
    if (outcomes.length < files.length) {
      tellStop(`${files.length - outcomes.length} of ${files.length} visit files were not imported`);
      return 1;
    }
    if (options.assess) {
      const desk = await openBatchDesk(workspace);
      try {
        const { failed: refused, left } = await assessWaiting(desk, new Set(nameOf.keys()), { signal });
        for (const { visitId, message, hint } of refused) {
          print(`${nameOf.get(visitId)}: not assessed. ${message} ${hint}`);
        }
        failed += refused.length;
        if (left > 0) {
          tellStop(`${left} visits were not assessed`);
          return 1;
        }
      } finally {
        await desk.close();
      }
    }
    return failed > 0 ? 1 : 0;
  });
}

function tellStop(what: string): void {
  process.stderr.write(`Stopped: ${what}. The same command goes on from there.\n`);
}
