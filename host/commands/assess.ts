import { CAUTIONS } from '../../core/cautions.ts';
import { StemrootError } from '../../core/errors.ts';
import { describeFailure } from '../../core/workspace/batch.ts';
import { formatCautions, formatResult } from '../formatResult.ts';
import { mapFiles } from '../mapFiles.ts';
import { print, printJson } from './print.ts';

/** Prints one result a visit file, in order, worked out on all cores. @returns 0 where all went through the chain, 1 where some failed */
export async function runAssess(paths: readonly string[], options: { json?: boolean }): Promise<number> {
  let failed = false;
  const tasks = paths.map((path) => ({ path }));
  let next = 0;
  for await (const outcome of mapFiles('assess', tasks)) {
    const path = paths[next++]!;
    const result = outcome instanceof StemrootError ? describeFailure(path, null, outcome) : outcome;
    failed ||= result.verdict === 'failed';
    if (options.json) printJson(result);
    else print(`${formatResult(result)}\n`);
  }
  if (!options.json) print(formatCautions(CAUTIONS));
  return failed ? 1 : 0;
}
