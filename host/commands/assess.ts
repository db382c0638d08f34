import { CAUTIONS } from '../../core/cautions.ts';
import { StemrootError } from '../../core/errors.ts';
import { describeFailure } from '../../core/workspace/index.ts';
import { formatCautions, formatResult } from '../formatResult.ts';
import { mapFiles } from '../mapFiles.ts';

/** Prints one result a visit file, in order, worked out on all cores. @returns 0 where all went through the chain, 1 where some failed */
export async function runAssess(paths: readonly string[], options: { json?: boolean }): Promise<number> {
  let failed = false;
  const tasks = paths.map((path) => ({ path }));
  let next = 0;
  for await (const outcome of mapFiles('assess', tasks)) {
    const path = paths[next++]!;
    const result = outcome instanceof StemrootError ? describeFailure(path, null, outcome) : outcome;
    failed ||= result.verdict === 'failed';
    process.stdout.write(options.json ? `${JSON.stringify(result)}\n` : `${formatResult(result)}\n\n`);
  }
  if (!options.json) process.stdout.write(`${formatCautions(CAUTIONS)}\n`);
  return failed ? 1 : 0;
}
