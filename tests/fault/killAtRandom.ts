import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import type { RandomStream } from '../../samples/random.ts';
import type { Acknowledged, JobName } from './jobs.ts';

/** Things that are told at most before the moment of the kill is drawn. */
const MOST_BEFORE = 3;
/** First line of the process, as JSON. */
const READY = '"ready"';
/** How long one thing takes, before it was measured; in ms. */
const FIRST_GUESS_MS = 300;

/** How long one thing of a job takes on this machine just now, in ms. */
const pace = new Map<JobName, number>();

/**
 * Has another process work at a job, and kills it by SIGKILL at a random moment: after none to three things were told, and
 * then anywhere within the next.
 * @returns what it had told to be stored; null where it ended by itself
 */
export async function killAtRandom(
  args: readonly [worker: string, job: JobName, workspace: string, firstForm: string],
  random: RandomStream,
): Promise<Acknowledged[] | null> {
  const job = args[1];
  const worker = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = once(worker, 'exit');
  const after = Math.floor(random.between(0, MOST_BEFORE + 1));
  const share = random.between(0, 1);
  const told: Acknowledged[] = [];
  let wasKilled = false;
  let since = 0;
  const killSoon = () => {
    setTimeout(
      () => {
        wasKilled = worker.kill('SIGKILL');
      },
      share * (pace.get(job) ?? FIRST_GUESS_MS),
    );
  };
  for await (const line of createInterface({ input: worker.stdout })) {
    // a line that was cut off told nothing
    if (line !== READY && !line.endsWith('}')) continue;
    if (line !== READY) {
      told.push(JSON.parse(line));
      pace.set(job, performance.now() - since);
    }
    since = performance.now();
    if (told.length === after) killSoon();
  }
  // its output ends before the process does, which still holds its locks then
  await ended;
  return wasKilled ? told : null;
}
