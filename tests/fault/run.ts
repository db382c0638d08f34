/**
 * `npm run test:fault`: kills a working process at random moments, 300 times, over import, assess, rule, recompute, migrate and backup.
 * After each the workspace must open, pass SQLite's whole check and the proof of its trail, and hold all that was told to be stored.
 * With `--short` as many kills as two minutes hold. A kill ends the process, not the machine: what the operating system
 * still held is written. What a power cut does rests on SQLite's synchronous = FULL, which no test here can show.
 * Usage: node tests/fault/run.ts [--short] [--seed text] [--minutes n]
 */
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { parseArgs } from 'node:util';
import { createRandomStream, type RandomStream } from '../../samples/random.ts';
import { buildWorker } from './buildWorker.ts';
import type { JobName } from './jobs.ts';
import { killAtRandom } from './killAtRandom.ts';
import { FIRST_FORM, makeFilledWorkspace } from './makeFilledWorkspace.ts';
import { verify } from './verify.ts';

const { values } = parseArgs({
  options: {
    short: { type: 'boolean', default: false },
    seed: { type: 'string', default: 'faults 1' },
    minutes: { type: 'string' },
  },
});

const JOBS: readonly JobName[] = ['import', 'assess', 'rule', 'recompute', 'migrate', 'backup'];
const KILLS = values.short ? 60 : 300;
const LONGEST_MS = Number(values.minutes ?? (values.short ? 2 : 15)) * 60_000;
/** Kept for the last rounds, so that the bound holds. */
const ROUND_MS = 15_000;
/** Two at a time, each on a workspace of its own: one waits while the other works. */
const LANES = 2;
/** A workspace is killed over and over, and left for a new one before proving it takes long. */
const KILLS_A_WORKSPACE = 30;
const TOLD_EVERY = 25;

const started = performance.now();
const counts = new Map(JOBS.map((job) => [job, { kills: 0, told: 0 }]));
const problems: string[] = [];
let kills = 0;

const worker = await buildWorker();
await Promise.all(
  Array.from({ length: LANES }, (_, lane) => work(createRandomStream(`${values.seed}/${lane}`))),
);
worker.remove();

for (const [job, { kills: of, told }] of counts) {
  process.stdout.write(
    `${job.padEnd(10)} ${String(of).padStart(4)} kills, ${String(told).padStart(5)} told to be stored before them\n`,
  );
}
const seconds = Math.round((performance.now() - started) / 1000);
process.stdout.write(`${kills} kills in ${seconds} s (seed "${values.seed}"): ${problems.length} problems\n`);
process.exitCode = problems.length === 0 && kills > 0 ? 0 : 1;

async function work(random: RandomStream): Promise<void> {
  while (mayGoOn()) {
    const folder = mkdtempSync(join(tmpdir(), 'stemroot-fault-'));
    const workspace = join(folder, 'a.stemroot');
    await makeFilledWorkspace(workspace);
    for (let i = 0; i < KILLS_A_WORKSPACE && mayGoOn(); i++) await killOnce(workspace, random);
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Tells of a problem at once: a run may be broken off. */
function note(problem: string): void {
  problems.push(problem);
  process.stdout.write(`${problem}\n`);
}

function mayGoOn(): boolean {
  return kills < KILLS && performance.now() - started < LONGEST_MS - ROUND_MS;
}

async function killOnce(workspace: string, random: RandomStream): Promise<void> {
  const number = ++kills;
  if (number % TOLD_EVERY === 0) process.stderr.write(`${number} kills, ${problems.length} problems\n`);
  const job = JOBS[number % JOBS.length]!;
  const told = await killAtRandom([worker.file, job, workspace, FIRST_FORM], random);
  if (told === null) {
    note(`kill ${number}: the work at ${job} ended by itself`);
    return;
  }
  const count = counts.get(job)!;
  count.kills++;
  count.told += told.length;
  for (const problem of await verify(workspace, told)) note(`kill ${number}, ${job}: ${problem}`);
  const folder = dirname(workspace);
  for (const name of readdirSync(folder)) if (name.startsWith('old-')) rmSync(join(folder, name));
}
