import { writeSync } from 'node:fs';

const STANDARD_OUTPUT = 1;
const TRY_AGAIN_MS = 5;

/**
 * Writes one line of JSON to standard output and returns once the system has it, so that it is told whatever comes next. A pipe that the
 * other end is slow to empty, on a busy machine, takes nothing for a while (`EAGAIN`, write(2)), or part of it.
 */
export function tellLine(value: unknown): void {
  let rest = Buffer.from(`${JSON.stringify(value)}\n`);
  while (rest.length > 0) {
    try {
      rest = rest.subarray(writeSync(STANDARD_OUTPUT, rest));
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') throw error;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, TRY_AGAIN_MS);
    }
  }
}
