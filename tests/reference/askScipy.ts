import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/**
 * Debian's interpreter, for which `apt-get install python3-scipy` serves; others on the path may lack SciPy.
 */
const PYTHON = '/usr/bin/python3';
const SCRIPT = './signalReference.py';
/**
 * Timings compare one thread with one thread, and memory at hand with memory at hand: the C library would give large
 * arrays back and take fresh pages for the next, which can cost more than a transform.
 */
const LIKE_FOR_LIKE = {
  OMP_NUM_THREADS: '1',
  OPENBLAS_NUM_THREADS: '1',
  MALLOC_MMAP_THRESHOLD_: String(2 ** 32),
  MALLOC_TRIM_THRESHOLD_: String(2 ** 33),
  MALLOC_TOP_PAD_: String(2 ** 28),
};

export interface ScipyAnswer {
  readonly scipy: string;
  readonly results: readonly Readonly<Record<string, readonly number[]>>[];
  readonly seconds: readonly number[];
}

/** True where SciPy can be asked. */
export function hasScipy(): boolean {
  return spawnSync(PYTHON, ['-c', 'import scipy.signal']).status === 0;
}

/**
 * Has SciPy compute; see the script for the jobs.
 * @param script - beside this file. @default signalReference.py
 */
export function askScipy(request: object, script = SCRIPT): ScipyAnswer {
  const run = spawnSync(PYTHON, [fileURLToPath(new URL(script, import.meta.url))], {
    input: JSON.stringify(request),
    encoding: 'utf8',
    maxBuffer: 2 ** 30,
    env: { ...process.env, ...LIKE_FOR_LIKE },
  });
  if (run.status !== 0) throw new Error(`SciPy failed: ${run.stderr}`);
  return JSON.parse(run.stdout) as ScipyAnswer;
}
