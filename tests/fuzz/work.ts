import { setImmediate } from 'node:timers/promises';
import { Worker } from 'node:worker_threads';
import { StemrootError } from '../../core/errors.ts';
import { tellLine } from '../tellLine.ts';
import { type KindName, kinds } from './kinds.ts';

/**
 * Reads cases of one kind, one after another, telling of each as it begins and what came of it. Time is the processor's: what else
 * the machine does is no fault of a reader. Memory is the most that the process ever held, in the midst of a case too.
 */
const [name, seed, from, count] = process.argv.slice(2) as [KindName, string, string, string];
const LONGEST_MS = 2000;
const MOST_BYTES = 512 * 1024 ** 2;
const BYTES_A_KIB = 1024;
const LONGEST_STACK = 2000;

const { make, read } = kinds[name];

// what the program says of a file goes to standard error; here only what is found matters
console.error = () => {};

// code that runs for the first time is compiled first, which is no reader's doing
for (const i of [1, 2, 3]) await tryReading(await make(`warm ${i}`));

/** When the case that is read began, in ms of the processor; 0 between two. */
const begun = new Float64Array(new SharedArrayBuffer(Float64Array.BYTES_PER_ELEMENT));
new Worker(new URL('./watchCase.ts', import.meta.url), { workerData: begun }).unref();

let mostBytes = 0;
for (let i = Number(from); i < Number(from) + Number(count); i++) {
  const bytes = await make(`${seed}/${name}/${i}`);
  tellLine({ begin: i });
  begun[0] = processorMs();
  const { outcome, problem } = await tryReading(bytes);
  const ms = processorMs() - begun[0];
  begun[0] = 0;
  if (problem !== null) tellLine({ found: i, what: problem });
  if (ms > LONGEST_MS) tellLine({ found: i, what: `took ${Math.round(ms)} ms of the processor` });
  // what was read is let go of here, as between two calls
  await setImmediate();
  const before = mostBytes;
  mostBytes = process.resourceUsage().maxRSS * BYTES_A_KIB;
  if (mostBytes > MOST_BYTES && before <= MOST_BYTES) {
    tellLine({ found: i, what: `the process grew to ${Math.round(mostBytes / 1024 ** 2)} MiB` });
  }
  tellLine({ outcome, ms, mostBytes });
}

async function tryReading(bytes: Uint8Array): Promise<{ outcome: string; problem: string | null }> {
  try {
    await read(bytes);
    return { outcome: 'read', problem: null };
  } catch (error) {
    if (error instanceof StemrootError) return { outcome: error.code, problem: null };
    return { outcome: 'untyped', problem: String((error as Error)?.stack ?? error).slice(0, LONGEST_STACK) };
  }
}

function processorMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}
