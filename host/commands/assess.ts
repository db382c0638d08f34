import { CAUTIONS } from '../../core/cautions.ts';
import { assessFile } from '../assessFile.ts';
import { formatCautions, formatResult } from '../formatResult.ts';

/** Prints one result a visit file, in order. @returns 0 where all went through the chain, 1 where some failed */
export function runAssess(paths: readonly string[], options: { json?: boolean }): number {
  let failed = false;
  for (const path of paths) {
    const { result } = assessFile(path);
    failed ||= result.verdict === 'failed';
    process.stdout.write(options.json ? `${JSON.stringify(result)}\n` : `${formatResult(result)}\n\n`);
  }
  if (!options.json) process.stdout.write(`${formatCautions(CAUTIONS)}\n`);
  return failed ? 1 : 0;
}
