import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const PROGRAM = 'ccx';
const JOB = 'pole';

/** True where CalculiX (Debian's calculix-ccx) can be asked. */
export function hasCalculix(): boolean {
  return spawnSync(PROGRAM, ['-v']).error === undefined;
}

/** Has CalculiX solve an input with a *FREQUENCY step; natural frequencies in Hz, ascending. */
export function askCalculix(input: string): number[] {
  const folder = mkdtempSync(join(tmpdir(), 'calculix-'));
  try {
    writeFileSync(join(folder, `${JOB}.inp`), input);
    const run = spawnSync(PROGRAM, [JOB], {
      cwd: folder,
      encoding: 'utf8',
      env: { ...process.env, OMP_NUM_THREADS: '1' },
    });
    if (run.status !== 0 || run.stdout.includes('*ERROR')) {
      throw new Error(`CalculiX failed: ${run.stdout.slice(run.stdout.indexOf('*ERROR')).slice(0, 500)}`);
    }
    return readFrequenciesHz(readFileSync(join(folder, `${JOB}.dat`), 'utf8'));
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** First table of the result file: mode, eigenvalue, rad/s, Hz, imaginary part. */
function readFrequenciesHz(text: string): number[] {
  const table = text.slice(0, text.indexOf('P A R T I C I P A T I O N'));
  return [...table.matchAll(/^\s+\d+\s+\S+E\S+\s+\S+\s+(\S+E\S+)\s+\S+\s*$/gm)].map((row) => Number(row[1]));
}
