import { writeSync } from 'node:fs';
import { workerData } from 'node:worker_threads';

/**
 * Ends its process where a case does not end by itself: after so much time of the processor, whatever the clock says. Runs on a thread
 * of its own, since the one that reads is the one that hangs.
 */
const HANGS_AFTER_MS = 20_000;
const LOOKS_EVERY_MS = 500;
const STANDARD_ERROR = 2;

const begun = workerData as Float64Array;

setInterval(() => {
  const began = begun[0]!;
  const { user, system } = process.cpuUsage();
  if (began === 0 || (user + system) / 1000 - began < HANGS_AFTER_MS) return;
  writeSync(STANDARD_ERROR, `A case has not ended after ${HANGS_AFTER_MS} ms of the processor.\n`);
  process.kill(process.pid, 'SIGKILL');
}, LOOKS_EVERY_MS);
