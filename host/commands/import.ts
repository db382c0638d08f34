import { bringIn } from '../bringIn.ts';
import { stopOnInterrupt } from '../stopOnInterrupt.ts';
import { findVisitFiles } from '../visitFiles.ts';
import { print } from './print.ts';

/**
 * Imports visits into a workspace, which is made where it is missing, and assesses them where asked, on all cores. What a
 * command that was broken off had stored stays; the same one goes on from there.
 * @returns 1 where some visit failed, or where it was broken off by Ctrl-C
 */
export async function runImport(
  workspace: string,
  paths: readonly string[],
  { assess = false }: { assess?: boolean },
): Promise<number> {
  return stopOnInterrupt(async (signal) => {
    const files = findVisitFiles(paths);
    const all = await bringIn(workspace, files, { assess, signal });
    for (const { outcome, refused } of all) {
      const { file, status, error, caution } = outcome;
      print(`${file}: ${error ? `failed. ${error.message} ${error.hint}` : status}`);
      if (caution) print(`${file}: look again. ${caution}`);
      if (refused) print(`${file}: not assessed. ${refused.message} ${refused.hint}`);
    }
    const left = files.length - all.length;
    if (left > 0) {
      const what = assess ? 'imported and assessed' : 'imported';
      process.stderr.write(
        `Stopped: ${left} of ${files.length} visit files were not ${what}. The same command goes on from there.\n`,
      );
    }
    const failed = all.some(({ outcome, refused }) => outcome.status === 'failed' || refused !== null);
    return failed || left > 0 ? 1 : 0;
  });
}
