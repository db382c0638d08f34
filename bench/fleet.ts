/**
 * Visits a second on one machine, by cores: visits of two recordings of two channels, 20 s at 4 kHz, two blows each, imported,
 * assessed and committed as `import --assess` does it, in a process that is held to so many cores (`taskset`, Linux alone) and has a thread
 * for each. Told are a whole batch, in which every thread starts and compiles the program anew, and each further visit: the
 * difference between a batch and one of a third of it. Beside each, the same arithmetic on as many cores, since two cores of
 * a rented machine are often one core's two halves: what that loses, no program can win. Wanted: 20 further visits a second on 2
 * cores, and at least 85 % of twice the rate of one. Rounds alternate, the best counts; other work on the machine still slows
 * all of it, so the processor time of a visit is told too, and the load.
 * Run: node bench/fleet.ts [visits] [rounds]
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { bringIn } from '../host/bringIn.ts';
import { findVisitFiles } from '../host/visitFiles.ts';
import { makeVisit } from '../samples/makeVisit.ts';
import { inventPole } from '../samples/place.ts';
import { programFlags } from './programFlags.ts';

const CORES = [1, 2];
const WANTED_A_SECOND = 20;
const WANTED_EFFICIENCY = 0.85;
/** Poles simulated; further visits are copies with the last sample changed, which are other bytes to the store. */
const POLES = 16;
/** Rounds of the reference: a second or so. */
const REFERENCE = `
const { parentPort } = require('node:worker_threads');
let sum = 0;
const table = Float64Array.from({ length: 4096 }, (_, i) => Math.sin(i));
for (let round = 0; round < 150_000; round++) for (let i = 0; i < 4096; i++) sum += table[i] * table[(i * 7 + round) & 4095];
parentPort.postMessage(sum);`;

/** What one process on its cores tells. */
type Batch = { readonly wallMs: number; readonly cpuMs: number; readonly referenceASecond: number };

/** The best of all rounds: whole batches and further visits a second, processor time of a further one in ms, rounds of the reference a second. */
type Rates = {
  readonly aSecond: number;
  readonly furtherASecond: number;
  readonly cpuMs: number;
  readonly reference: number;
};

if (process.argv[2] === 'batch') {
  const [workspace, visits, count, threads] = process.argv.slice(3) as [string, string, string, string];
  const files = findVisitFiles([visits]).slice(0, Number(count));
  process.stdout.write(JSON.stringify(await runBatch(workspace, files, Number(threads))));
} else {
  await compareCores(Number(process.argv[2] ?? 240), Number(process.argv[3] ?? 2));
}

async function compareCores(visits: number, rounds: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-fleet-'));
  const fewer = Math.ceil(visits / 3);
  const further = visits - fewer;
  try {
    writeVisits(join(folder, 'visits'), visits);
    const best = new Map<number, Rates>();
    let bytesAVisit = 0;
    for (let round = 0; round < rounds; round++) {
      for (const cores of CORES) {
        const few = runOnCores(folder, `${round}-${cores}-few`, fewer, cores);
        const all = runOnCores(folder, `${round}-${cores}`, visits, cores);
        bytesAVisit = statSync(join(folder, `${round}-${cores}.stemroot`)).size / visits;
        const known = best.get(cores);
        best.set(cores, {
          aSecond: Math.max((1000 * visits) / all.wallMs, known?.aSecond ?? 0),
          furtherASecond: Math.max((1000 * further) / (all.wallMs - few.wallMs), known?.furtherASecond ?? 0),
          cpuMs: Math.min((all.cpuMs - few.cpuMs) / further, known?.cpuMs ?? Number.POSITIVE_INFINITY),
          reference: Math.max(all.referenceASecond, few.referenceASecond, known?.reference ?? 0),
        });
      }
    }
    const [one, two] = CORES.map((cores) => best.get(cores)!) as [Rates, Rates];
    console.log(`load of the machine at the end: ${loadavg()[0]!.toFixed(1)} on ${CORES.at(-1)} cores`);
    for (const cores of CORES) {
      const { aSecond, furtherASecond, cpuMs } = best.get(cores)!;
      console.log(
        `${cores} cores: ${furtherASecond.toFixed(1)} further visits a second, ${cpuMs.toFixed(0)} ms of processor time each; a batch of ${visits} with its start: ${aSecond.toFixed(1)} a second`,
      );
    }
    const efficiency = two.furtherASecond / (2 * one.furtherASecond);
    const ofReference = two.reference / (2 * one.reference);
    console.log(`${(bytesAVisit / 1000).toFixed(0)} kB in the workspace a visit`);
    console.log(`wanted ${WANTED_A_SECOND} a second: ${tell(two.furtherASecond >= WANTED_A_SECOND)}`);
    console.log(
      `efficiency on 2 cores ${(100 * efficiency).toFixed(0)} %, of plain arithmetic ${(100 * ofReference).toFixed(0)} %; wanted ${100 * WANTED_EFFICIENCY} %: ${tell(efficiency >= WANTED_EFFICIENCY)}`,
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function runOnCores(folder: string, name: string, visits: number, cores: number): Batch {
  const program = [process.execPath, ...programFlags('stemroot'), fileURLToPath(import.meta.url), 'batch'];
  const task = [join(folder, `${name}.stemroot`), join(folder, 'visits'), `${visits}`, `${cores}`];
  const { status, stdout, stderr } = spawnSync(
    'taskset',
    ['--cpu-list', `0-${cores - 1}`, ...program, ...task],
    { encoding: 'utf8' },
  );
  if (status !== 0) throw new Error(`The batch on ${cores} cores failed: ${stderr}`);
  return JSON.parse(stdout);
}

async function runBatch(workspace: string, files: readonly string[], threads: number): Promise<Batch> {
  const started = { wall: performance.now(), cpu: process.cpuUsage() };
  const all = await bringIn(workspace, files, { threads, assess: true });
  const { user, system } = process.cpuUsage(started.cpu);
  const wallMs = performance.now() - started.wall;
  const failed = all.find(({ outcome, refused }) => outcome.error ?? refused);
  if (failed) throw new Error(`${failed.outcome.file} was not assessed: ${failed.refused?.message}`);
  return { wallMs, cpuMs: (user + system) / 1000, referenceASecond: await timeReference(threads) };
}

/** Rounds a second of the reference, over all threads. */
async function timeReference(threads: number): Promise<number> {
  const started = performance.now();
  await Promise.all(
    Array.from({ length: threads }, () => {
      const worker = new Worker(REFERENCE, { eval: true });
      return new Promise((done, fail) => worker.once('message', done).once('error', fail));
    }),
  );
  return (1000 * threads) / (performance.now() - started);
}

function writeVisits(into: string, visits: number): void {
  mkdirSync(into);
  const made = Array.from({ length: Math.min(POLES, visits) }, (_, i) =>
    makeVisit(
      inventPole({
        id: `FL-${i}`,
        species: 'southern-pine',
        treatment: 'none',
        classCode: '4',
        lengthM: 12.19,
        setYear: 2001,
        soil: 'medium-sand',
        backfill: 1,
        visits: [],
      }),
      { date: '2026-05-01', hammer: [[], []], hand: [[], []], sampleRateHz: 4000 },
    ),
  );
  for (let i = 0; i < visits; i++) {
    const { visit, recordings } = made[i % made.length]!;
    for (const { file, bytes } of recordings) {
      const copy = Buffer.from(bytes);
      copy.writeUInt16LE(i, copy.length - 2);
      writeFileSync(join(into, `${i}-${file}`), copy);
    }
    const own = {
      ...visit,
      recordings: visit.recordings.map((entry) => ({ ...entry, file: `${i}-${entry.file}` })),
    };
    writeFileSync(join(into, `${i}.visit.json`), JSON.stringify(own));
  }
}

function tell(met: boolean): string {
  return met ? 'met' : 'NOT MET';
}
