import { writeSync } from 'node:fs';
import { setImmediate } from 'node:timers/promises';
import { StemrootError } from '../../core/errors.ts';
import { type KindName, kinds } from './kinds.ts';

/**
 * Reads cases of one kind, one after another, telling of each before it begins and of what came of all at the end. Time is the
 * processor's: what else the machine does is no fault of a reader.
 */
const [name, seed, from, count] = process.argv.slice(2) as [KindName, string, string, string];
const LONGEST_MS = 2000;
const MOST_BYTES = 512 * 1024 ** 2;
const STANDARD_OUTPUT = 1;
const LONGEST_STACK = 2000;

const { make, read } = kinds[name];
const outcomes: Record<string, number> = {};
let slowestMs = 0;
let mostBytes = 0;

// what the program says of a file goes to standard error; here only what is found matters
console.error = () => {};

// code that runs for the first time is compiled first, which is no reader's doing
for (const i of [1, 2, 3]) await tryReading(await make(`warm ${i}`));

for (let i = Number(from); i < Number(from) + Number(count); i++) {
  const bytes = await make(`${seed}/${name}/${i}`);
  tell({ begin: i });
  const started = process.cpuUsage();
  let outcome = 'read';
  try {
    await read(bytes);
  } catch (error) {
    outcome = error instanceof StemrootError ? error.code : 'untyped';
    if (outcome === 'untyped')
      tell({ found: i, what: String((error as Error)?.stack ?? error).slice(0, 2000) });
  }
  const { user, system } = process.cpuUsage(started);
  const ms = (user + system) / 1000;
  if (ms > LONGEST_MS) tell({ found: i, what: `took ${Math.round(ms)} ms of the processor` });
  slowestMs = Math.max(slowestMs, ms);
  outcomes[outcome] = (outcomes[outcome] ?? 0) + 1;
  // what was read is let go of here, as between two calls
  await setImmediate();
  const { rss } = process.memoryUsage();
  if (rss > MOST_BYTES) tell({ found: i, what: `the process grew to ${Math.round(rss / 1024 ** 2)} MiB` });
  mostBytes = Math.max(mostBytes, rss);
}
tell({ end: true, outcomes, slowestMs, mostBytes });

async function tryReading(bytes: Uint8Array): Promise<{ outcome: string; problem: string | null }> {
  try {
    await read(bytes);
    return { outcome: 'read', problem: null };
  } catch (error) {
    if (error instanceof StemrootError) return { outcome: error.code, problem: null };
    return { outcome: 'untyped', problem: String((error as Error)?.stack ?? error).slice(0, LONGEST_STACK) };
  }
}

function tell(line: object): void {
  writeSync(STANDARD_OUTPUT, `${JSON.stringify(line)}\n`);
}
