/**
 * Imports and assesses many visits in one run, one process and one workspace, as a season of work would, and prints by tenths what a
 * visit costs the processor and how much memory the process holds. Wanted: memory and cost of the last tenth within 15 % of the first,
 * and a workspace that passes SQLite's whole check and the proof of its trail. Recordings are short, and one model of the root is
 * fitted in the place of three, so that there can be many.
 * Run: node bench/soak.ts [visits]
 */
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { checkWorkspace, proveWorkspace } from '../core/workspace/care/index.ts';
import { callService, createWorkspaceService, importVisit, openStore } from '../core/workspace/index.ts';
import { makeSource, makeVisitFile } from '../tests/workspace/visitSources.ts';

const visits = Number(process.argv[2] ?? 20_000);
const TENTHS = 10;
const WITHIN = 0.15;
/** Code is compiled and caches are filled by the first visits. */
const WARM_UP = Math.min(200, Math.ceil(visits / TENTHS));
const BYTES_PER_MB = 1e6;

const ROOT = { root: 'spring' } as const;

/** A short recording: two modes on two axes after some rest, at a low rate. */
const RATE_HZ = 100;
const DURATION_S = 4;
const BLOW_S = 0.4;

const folder = mkdtempSync(join(tmpdir(), 'stemroot-soak-'));
const path = join(folder, 'soak.stemroot');
try {
  const store = openStore(path, { create: true });
  const handlers = createWorkspaceService(store);
  for (let i = 0; i < WARM_UP; i++) await work(i);

  async function work(i: number): Promise<void> {
    const poleId = `SK-${String(i).padStart(6, '0')}`;
    const source = makeSource(
      { ...makeVisitFile(poleId), options: ROOT },
      { [`${poleId}.csv`]: makeRecording(i) },
    );
    const { visitId, error } = await importVisit(store, source);
    if (visitId === null) throw new Error(`Visit ${i} was not imported: ${error?.message}`);
    // a result that is withheld, or a visit that the chain refuses, is a result too
    await callService(handlers, 'visit.assess', { visitId, decisions: [] });
    // as between two calls at a door: what the database held natively is let go of when the event loop turns, and in no other moment
    await setImmediate();
  }

  console.log('tenth   ms a visit   memory MB');
  const tenths: { msAVisit: number; memoryMb: number }[] = [];
  const each = Math.ceil(visits / TENTHS);
  for (let tenth = 0; tenth < TENTHS; tenth++) {
    const started = process.cpuUsage();
    let mostBytes = 0;
    for (let i = 0; i < each; i++) {
      await work(WARM_UP + tenth * each + i);
      mostBytes = Math.max(mostBytes, process.memoryUsage().rss);
    }
    const { user, system } = process.cpuUsage(started);
    const found = { msAVisit: (user + system) / 1000 / each, memoryMb: mostBytes / BYTES_PER_MB };
    tenths.push(found);
    console.log(
      `${String(tenth + 1).padStart(5)}   ${found.msAVisit.toFixed(1).padStart(10)}   ${found.memoryMb.toFixed(0).padStart(9)}`,
    );
  }
  const faults = checkWorkspace(store.database).faults;
  const { holds } = proveWorkspace(store.database);
  await store.close();
  const [first, last] = [tenths[0]!, tenths.at(-1)!];
  const steady = Math.abs(last.msAVisit / first.msAVisit - 1) <= WITHIN;
  const flat = last.memoryMb / first.memoryMb - 1 <= WITHIN;
  console.log(
    `${each * TENTHS + WARM_UP} visits, file of ${(statSync(path).size / BYTES_PER_MB).toFixed(0)} MB`,
  );
  console.log(
    `cost of a visit, last tenth over first: ${(last.msAVisit / first.msAVisit).toFixed(2)} (${steady ? 'steady' : 'NOT steady'})`,
  );
  console.log(
    `memory, last tenth over first:          ${(last.memoryMb / first.memoryMb).toFixed(2)} (${flat ? 'flat' : 'NOT flat'})`,
  );
  console.log(`workspace: ${faults.length} faults, the trail ${holds ? 'holds' : 'does NOT hold'}`);
  if (!(steady && flat && holds && faults.length === 0)) process.exitCode = 1;
} finally {
  rmSync(folder, { recursive: true, force: true });
}

function makeRecording(seed: number): string {
  const rows = Array.from({ length: RATE_HZ * DURATION_S }, (_, i) => {
    const t = i / RATE_HZ - BLOW_S;
    const noise = 1e-3 * Math.sin(997 * (i + seed));
    const axis = (hz: number, size: number) =>
      (t < 0 ? 0 : size * Math.exp(-1.5 * t) * Math.sin(2 * Math.PI * hz * t)) + noise;
    return `${i / RATE_HZ},${axis(3, 4).toFixed(6)},${axis(4, 2).toFixed(6)}`;
  });
  return ['time [s],a [m/s2],b [m/s2]', ...rows].join('\n');
}
