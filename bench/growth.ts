/**
 * How the work grows with the number of visits that a workspace holds: 10^3 to 10^6 generated results, then the first reading of the
 * register, its queries (wanted: under 50 ms each), memory, the export, and what import and assessment of a further visit cost. Every
 * size runs in a process of its own. Processor time beside wall time, since other work on the machine changes the latter.
 * Run: node bench/growth.ts [largest, for instance 1e6]; without it up to 10^5, since a million take the better part of an hour
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  callService,
  createWorkspaceService,
  importVisit,
  openStore,
  readExportRows,
  writeParquet,
} from '../core/workspace/index.ts';
import { makeCsv, makeSource, makeVisitFile } from '../tests/workspace/visitSources.ts';
import { makeLongRegister } from './window/makeLongRegister.ts';

const SIZES = [1e3, 1e4, 1e5, 1e6];
const LARGEST = 1e5;
const WANTED_MS = 50;
const REPEATS = 5;
const FURTHER_VISITS = 20;

/** As the window asks: its first view, another order, a search by words, filters, a jump far down. */
const QUERIES: Record<string, object> = {
  'first view': {},
  'by capacity': { sort: { key: 'capacity', descending: true } },
  'by pole, far down': { sort: { key: 'pole', descending: false }, offset: 900 },
  words: { search: 'douglas clipping' },
  'one pole': { search: 'lr-000777' },
  filters: {
    ruled: 'waiting',
    verdicts: ['withheld'],
    latestOnly: true,
    sort: { key: 'date', descending: true },
  },
};

const [own, argument] = process.argv.slice(2);
if (own === '--size') await measure(Number(argument));
else {
  const largest = Number(own ?? LARGEST);
  for (const size of SIZES.filter((visits) => visits <= largest)) {
    const { status } = spawnSync(
      process.execPath,
      ['--max-old-space-size=8192', fileURLToPath(import.meta.url), '--size', String(size)],
      { stdio: 'inherit' },
    );
    if (status !== 0) process.exitCode = 1;
  }
}

async function measure(visits: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-growth-'));
  try {
    const path = join(folder, 'growth.stemroot');
    await makeLongRegister(path, visits);
    console.log(
      `\n${visits} visits, file of ${(statSync(path).size / 1e6).toFixed(0)} MB, load ${loadavg()[0]!.toFixed(1)}`,
    );
    const store = openStore(path);
    const handlers = createWorkspaceService(store);
    const query = (request: object) => callService(handlers, 'register.query', request);
    print('first reading of the register', await time(() => query({})));
    console.log(`  memory after it: ${(process.memoryUsage().rss / 1e6).toFixed(0)} MB`);
    for (const [name, request] of Object.entries(QUERIES)) {
      const first = await time(() => query(request));
      let best = first;
      for (let i = 0; i < REPEATS; i++) {
        // what was found last is kept: another query between them has it found anew
        await query({ search: `none ${i}` });
        const lap = await time(() => query(request));
        if (lap.wallMs < best.wallMs) best = lap;
      }
      print(`query "${name}", first time`, first);
      print(`query "${name}"`, best, WANTED_MS);
    }
    const work = await time(async () => {
      for (let i = 0; i < FURTHER_VISITS; i++) {
        const poleId = `GR-${i}`;
        const source = makeSource(makeVisitFile(poleId), { [`${poleId}.csv`]: makeCsv(i) });
        const { visitId } = await importVisit(store, source);
        await callService(handlers, 'visit.assess', { visitId, decisions: [] });
      }
    });
    console.log(
      `  a further visit imported and assessed: ${(work.cpuMs / FURTHER_VISITS).toFixed(1)} ms of processor time`,
    );
    const after = await time(() => query({}));
    print('query after a change of the register', after, WANTED_MS);
    let bytes = 0;
    const exported = await time(async () => {
      for await (const part of writeParquet(readExportRows(store.db))) bytes += part.length;
    });
    print(`export as Parquet, ${(bytes / 1e6).toFixed(1)} MB`, exported);
    console.log(`  most memory: ${(process.resourceUsage().maxRSS / 1e3).toFixed(0)} MB`);
    await store.close();
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function time(run: () => unknown): Promise<{ wallMs: number; cpuMs: number }> {
  const started = { wall: performance.now(), cpu: process.cpuUsage() };
  await run();
  const { user, system } = process.cpuUsage(started.cpu);
  return { wallMs: performance.now() - started.wall, cpuMs: (user + system) / 1000 };
}

function print(what: string, { wallMs, cpuMs }: { wallMs: number; cpuMs: number }, wantedMs?: number): void {
  const verdict =
    wantedMs === undefined
      ? ''
      : cpuMs <= wantedMs
        ? `, within ${wantedMs} ms`
        : `, NOT within ${wantedMs} ms`;
  console.log(`  ${what}: ${wallMs.toFixed(0)} ms, processor ${cpuMs.toFixed(0)} ms${verdict}`);
}
