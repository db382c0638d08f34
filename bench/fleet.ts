/**
 * Visits a second on one machine, by threads: visits of two recordings of two channels, 20 s at 4 kHz, two blows each, imported,
 * assessed and committed as `import --assess` does it. Told are a whole batch, in which every thread starts and compiles the program
 * anew, and each further visit: the difference between a batch and one of a third of it. Beside each, the same arithmetic spread over as
 * many threads, since two cores of a rented machine are often one core's two halves: what that loses, no program can win. Wanted: 20 further
 * visits a second on 2 threads, and at least 85 % of twice the rate of one. Rounds alternate, the best counts; other work on the
 * machine still slows all of it, so the processor time of a visit is told too, and the load.
 * Run, with the flags of the `stemroot` script: node --single-threaded-gc --max-semi-space-size=64 bench/fleet.ts [visits] [rounds]
 */
import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { bringIn } from '../host/bringIn.ts';
import { makeVisit } from '../samples/makeVisit.ts';
import { inventPole } from '../samples/place.ts';

const visits = Number(process.argv[2] ?? 240);
const rounds = Number(process.argv[3] ?? 2);
const fewer = Math.ceil(visits / 3);
const THREADS = [1, 2];
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

/** The best of all rounds: whole batches and further visits a second, processor time of a further one in ms, rounds of the reference a second. */
type Rates = {
  readonly aSecond: number;
  readonly furtherASecond: number;
  readonly cpuMs: number;
  readonly reference: number;
};

const folder = mkdtempSync(join(tmpdir(), 'stemroot-fleet-'));
try {
  const files = writeVisits(join(folder, 'visits'));
  const best = new Map<number, Rates>();
  let bytesAVisit = 0;
  for (let round = 0; round < rounds; round++) {
    for (const threads of THREADS) {
      const few = await runBatch(threads, files.slice(0, fewer), `${round}-${threads}-few`);
      const all = await runBatch(threads, files, `${round}-${threads}`);
      const reference = await timeReference(threads);
      const known = best.get(threads);
      const further = visits - fewer;
      best.set(threads, {
        aSecond: Math.max((1000 * visits) / all.wallMs, known?.aSecond ?? 0),
        furtherASecond: Math.max((1000 * further) / (all.wallMs - few.wallMs), known?.furtherASecond ?? 0),
        cpuMs: Math.min((all.cpuMs - few.cpuMs) / further, known?.cpuMs ?? Number.POSITIVE_INFINITY),
        reference: Math.max(reference, known?.reference ?? 0),
      });
    }
  }
  const [one, two] = THREADS.map((threads) => best.get(threads)!) as [Rates, Rates];
  console.log(`load of the machine at the end: ${loadavg()[0]!.toFixed(1)} on ${THREADS.at(-1)} cores`);
  for (const threads of THREADS) {
    const { aSecond, furtherASecond, cpuMs } = best.get(threads)!;
    console.log(
      `${threads} threads: ${furtherASecond.toFixed(1)} further visits a second, ${cpuMs.toFixed(0)} ms of processor time each; a batch of ${visits} with its start: ${aSecond.toFixed(1)} a second`,
    );
  }
  const efficiency = two.furtherASecond / (2 * one.furtherASecond);
  const ofReference = two.reference / (2 * one.reference);
  console.log(`${(bytesAVisit / 1000).toFixed(0)} kB in the workspace a visit`);
  console.log(`wanted ${WANTED_A_SECOND} a second: ${tell(two.furtherASecond >= WANTED_A_SECOND)}`);
  console.log(
    `efficiency on 2 threads ${(100 * efficiency).toFixed(0)} %, of plain arithmetic ${(100 * ofReference).toFixed(0)} %; wanted ${100 * WANTED_EFFICIENCY} %: ${tell(efficiency >= WANTED_EFFICIENCY)}`,
  );

  async function runBatch(
    threads: number,
    batch: readonly string[],
    name: string,
  ): Promise<{ wallMs: number; cpuMs: number }> {
    const path = join(folder, `${name}.stemroot`);
    const started = { wall: performance.now(), cpu: process.cpuUsage() };
    const all = await bringIn(path, batch, { threads, assess: true });
    const { user, system } = process.cpuUsage(started.cpu);
    const failed = all.find(({ outcome, refused }) => outcome.error ?? refused);
    if (failed) throw new Error(`${failed.outcome.file} was not assessed: ${failed.refused?.message}`);
    bytesAVisit = statSync(path).size / batch.length;
    return { wallMs: performance.now() - started.wall, cpuMs: (user + system) / 1000 };
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
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

function writeVisits(into: string): string[] {
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
  return Array.from({ length: visits }, (_, i) => {
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
    const path = join(into, `${i}.visit.json`);
    writeFileSync(path, JSON.stringify(own));
    return path;
  });
}

function tell(met: boolean): string {
  return met ? 'met' : 'NOT MET';
}
