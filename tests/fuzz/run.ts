/**
 * `npm run test:fuzz`: reads tens of thousands of spoiled files of every kind that the program takes: 50,000 WAV, 20,000 CSV, 20,000
 * visit files, 5,000 workspaces. No crash, no hang over 2 s, no memory over 512 MiB, and every refusal one of the program's own
 * errors. A case is made from its seed; what is found is kept in tests/fuzz/found and read again by the tests.
 * Usage: node tests/fuzz/run.ts [--share 0.01] [--seed text] [--kind wav] [--from 0] [--count n]
 */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { parseArgs } from 'node:util';
import { type KindName, kinds } from './kinds.ts';

const { values } = parseArgs({
  options: {
    share: { type: 'string', default: '1' },
    seed: { type: 'string', default: 'fuzz 1' },
    kind: { type: 'string' },
    from: { type: 'string', default: '0' },
    count: { type: 'string' },
  },
});

/**
 * A case that waits for ever takes no time of the processor, by which work.ts measures the two seconds and ends what hangs: so long
 * by the clock never passes on the busiest machine.
 */
const WAITS_FOR_EVER_MS = 600_000;
const WORKER = join(import.meta.dirname, 'work.ts');
const FOUND = join(import.meta.dirname, 'found');

type Line =
  | { begin: number }
  | { found: number; what: string }
  | { outcome: string; ms: number; mostBytes: number };

let found = 0;
const names = values.kind === undefined ? (Object.keys(kinds) as KindName[]) : [values.kind as KindName];
for (const name of names) {
  const count = Number(values.count ?? Math.ceil(kinds[name].count * Number(values.share)));
  await fuzz(name, Number(values.from), count);
}
process.stdout.write(`fuzz (seed "${values.seed}"): ${found} found\n`);
process.exitCode = found === 0 ? 0 : 1;

/** Reads cases in a process of their own; one that ends it or hangs is told, and the rest go on in another. */
async function fuzz(name: KindName, from: number, count: number): Promise<void> {
  const outcomes: Record<string, number> = {};
  let slowestMs = 0;
  let mostBytes = 0;
  let next = from;
  while (next < from + count) {
    const args = [WORKER, name, values.seed, String(next), String(from + count - next)];
    const worker = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
    const closed = once(worker, 'close') as Promise<[code: number | null, signal: string | null]>;
    const giveUp = () => worker.kill('SIGTERM');
    let current = next;
    let watch = setTimeout(giveUp, WAITS_FOR_EVER_MS);
    for await (const text of createInterface({ input: worker.stdout })) {
      const line = JSON.parse(text) as Line;
      if ('begin' in line) {
        current = line.begin;
        clearTimeout(watch);
        watch = setTimeout(giveUp, WAITS_FOR_EVER_MS);
      } else if ('found' in line) await keep(name, line.found, line.what);
      else {
        slowestMs = Math.max(slowestMs, line.ms);
        mostBytes = Math.max(mostBytes, line.mostBytes);
        outcomes[line.outcome] = (outcomes[line.outcome] ?? 0) + 1;
      }
    }
    clearTimeout(watch);
    const [code, signal] = await closed;
    if (code === 0) break;
    await keep(name, current, `its process ended by ${signal ?? `code ${code}`}`);
    next = current + 1;
  }
  const { read = 0, ...refused } = outcomes;
  const refusals = Object.entries(refused).sort((a, b) => b[1] - a[1]);
  process.stdout.write(
    `${name}: ${count} cases, ${read} read, ${sum(refused)} refused, slowest ${Math.round(slowestMs)} ms, at most ${Math.round(mostBytes / 1024 ** 2)} MiB\n` +
      `    ${refusals.map(([code, cases]) => `${code} ${cases}`).join(', ')}\n`,
  );
}

async function keep(name: KindName, number: number, what: string): Promise<void> {
  found++;
  process.stdout.write(`FOUND ${name} ${number}: ${what}\n`);
  mkdirSync(FOUND, { recursive: true });
  const bytes = await kinds[name].make(`${values.seed}/${name}/${number}`);
  writeFileSync(join(FOUND, `${name}-${values.seed.replaceAll(/\W+/g, '-')}-${number}.bin`), bytes);
}

function sum(counts: Record<string, number>): number {
  return Object.values(counts).reduce((total, count) => total + count, 0);
}
