/**
 * How the work grows with the number of visits that a store holds: 10^3 to 10^6 invented results, in a workspace file and in a team
 * store. What the register's first filling takes, each of its queries (wanted: under 50 ms), what the poll of a window costs, and what
 * import and assessment of a further visit cost, with the register's part of it. Beside them stand a count of the rows of a table
 * and a look-up by its key. Every store runs in a process of its own.
 * Run: node bench/growth.ts [largest, for instance 1e6]; without it up to 10^5, since a million of each take half an hour
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { sql } from 'kysely';
import { registerCalls } from '../core/workspace/contract/registerCalls.ts';
import {
  callService,
  createWorkspaceService,
  importVisit,
  openTeamStore,
  openWorkspace,
  prepareTeamStore,
  readExportRows,
  type Store,
  writeParquet,
} from '../core/workspace/index.ts';
import { refreshVisits } from '../core/workspace/register/refreshPoles.ts';
import { settleRegister } from '../core/workspace/register/settleRegister.ts';
import { findPostgres, startPostgres } from '../tests/team/startPostgres.ts';
import { makeCsv, makeSource, makeVisitFile } from '../tests/workspace/visitSources.ts';
import { fillTeamStore } from './growth/fillTeamStore.ts';
import { makeLongRegister } from './window/makeLongRegister.ts';
import { median } from './window/report.ts';

const SIZES = [1e3, 1e4, 1e5, 1e6];
const LARGEST = 1e5;
const WANTED_MS = 50;
const REPEATS = 15;
const FURTHER_VISITS = 20;
const MOST_EXPORTED = 1e5;
/** What PostgreSQL's own documentation (20.4) would give it on a machine of 2 GB that does nothing else. */
const BUFFERS = '512MB';

type Asked = {
  /** Where in the list the rows stand that are asked for, as a share. */
  at?: number;
  query: object;
};

const by = (key: string, descending = false) => ({ sort: { key, descending } });

/** More than a window keeps. */
const OTHER_LISTS = 9;
/** As a window asks: its orders, jumps in them, filters, words that one visit has, some, nearly all. */
const QUERIES: Record<string, Asked> = {
  'first view': { query: {} },
  'by pole': { query: by('pole') },
  'by date': { query: by('date', true) },
  'by verdict': { query: by('verdict') },
  'by capacity': { query: by('capacity', true) },
  'by chance': { query: by('thresholdChance', true) },
  'need, the middle': { query: {}, at: 0.5 },
  'requirement, the middle': { query: by('requirement'), at: 0.5 },
  'pole, nine tenths down': { query: by('pole'), at: 0.9 },
  'filter: verdict': { query: { verdicts: ['withheld'] } },
  'filter: finding, by f1': { query: { reasons: ['misfit'], ...by('f1') } },
  'filter: species, the middle': { query: { species: ['douglas-fir'] }, at: 0.5 },
  'filters: three': {
    query: { ruled: 'waiting', verdicts: ['withheld'], latestOnly: true, ...by('date', true) },
  },
  'one pole': { query: { search: 'lr-000777' } },
  'words: douglas clipping': { query: { search: 'douglas clipping' } },
  'words: douglas lr-00007': { query: { search: 'douglas lr-00007' } },
  'words: 2014-': { query: { search: '2014-' } },
  'words: lr-': { query: { search: 'lr-' } },
  'words: lr': { query: { search: 'lr' } },
  'words: 77': { query: { search: '77' } },
  'words: none has them': { query: { search: 'xyzzy' } },
};

const [own, kind, argument] = process.argv.slice(2);
if (own === '--own') await measure(kind === 'team' ? 'team' : 'file', Number(argument));
else {
  const largest = Number(own ?? LARGEST);
  for (const size of SIZES.filter((visits) => visits <= largest)) {
    for (const engine of ['file', 'team']) {
      const { status } = spawnSync(
        process.execPath,
        [fileURLToPath(import.meta.url), '--own', engine, String(size)],
        { stdio: 'inherit' },
      );
      if (status !== 0) process.exitCode = 1;
    }
  }
}

async function measure(engine: 'file' | 'team', visits: number): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-growth-'));
  const programs = findPostgres();
  if (engine === 'team' && programs === null) {
    console.log('\nteam store not measured: PostgreSQL is not installed');
    return;
  }
  const server = engine === 'team' ? await startPostgres(programs!, { buffers: BUFFERS }) : null;
  try {
    const store = server ? await makeTeam(server.admin, visits) : await makeFile(folder, visits);
    try {
      await measureStore(store, visits);
    } finally {
      await store.close();
    }
  } finally {
    await server?.stop();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function makeFile(folder: string, visits: number): Promise<Store> {
  const path = join(folder, 'growth.stemroot');
  await makeLongRegister(path, visits);
  return openWorkspace(path);
}

async function makeTeam(place: string, visits: number): Promise<Store> {
  await prepareTeamStore(place);
  await fillTeamStore(place, visits);
  return openTeamStore(place);
}

async function measureStore(store: Store, visits: number): Promise<void> {
  console.log(`\n${visits} visits in a ${store.kind} store`);
  const before = await countBytes(store);
  const filled = await time(() => settleRegister(store.db, { isAlone: true }));
  if (store.kind === 'team') await sql`ANALYZE`.execute(store.db);
  const after = await countBytes(store);
  console.log(
    `  register filled: ${(filled / 1e3).toFixed(1)} s; bytes a visit before ${Math.round(before / visits)}, with it ${Math.round(after / visits)}`,
  );
  await print('reference: all visits counted', () => sql`SELECT count(*) FROM visits`.execute(store.db));
  await print('reference: a visit by its key', (i) =>
    sql`SELECT measured_on FROM visits WHERE visit_id = ${1 + i}`.execute(store.db),
  );
  const handlers = createWorkspaceService(store);
  const ask = (request: object) =>
    handlers['register.query'](registerCalls['register.query'].request.parse(request));
  // the lists that were asked for last are kept: others between them have one found anew
  const forget = async (i: number) => {
    for (let list = 0; list < OTHER_LISTS; list++) await ask({ search: `none ${i} ${list}` });
  };
  for (const [name, { query, at = 0 }] of Object.entries(QUERIES)) {
    const { matching } = await ask(query);
    const request = { ...query, offset: Math.floor(at * matching) };
    await print(name, () => ask(request), {
      between: forget,
      wantedMs: WANTED_MS,
    });
  }
  // a list that is open is scrolled on, and the visit that was open last is looked for in it
  for (const name of ['need, the middle', 'filter: species, the middle']) {
    const { query } = QUERIES[name]!;
    const { matching } = await ask(query);
    const middle = Math.floor(matching / 2);
    await print(`${name}, scrolled on`, (i) => ask({ ...query, offset: middle + 100 * i }), {
      wantedMs: WANTED_MS,
    });
    const { rows } = await ask({ ...query, offset: middle });
    await print(`${name}, the place of a visit`, () => ask({ ...query, locate: rows[0]!.visitId }), {
      between: forget,
      wantedMs: WANTED_MS,
    });
  }
  const { last } = await handlers['care.changes']({});
  await print('poll of a window: nothing new', () => handlers['care.changes']({ after: last }));
  await measureFurther(store, handlers);
  await print('first view after a change', () => ask({}), {
    between: () => sql`UPDATE register_state SET revision = revision + 1`.execute(store.db),
    wantedMs: WANTED_MS,
  });
  if (visits <= MOST_EXPORTED) {
    let bytes = 0;
    const exported = await time(async () => {
      for await (const part of writeParquet(readExportRows(store.db))) bytes += part.length;
    });
    console.log(`  export as Parquet, ${(bytes / 1e6).toFixed(1)} MB: ${(exported / 1e3).toFixed(1)} s`);
  }
  console.log(`  most memory: ${(process.resourceUsage().maxRSS / 1e3).toFixed(0)} MB`);
}

async function measureFurther(
  store: Store,
  handlers: ReturnType<typeof createWorkspaceService>,
): Promise<void> {
  const ids: number[] = [];
  const works: number[] = [];
  const cpu = process.cpuUsage();
  for (let i = 0; i < FURTHER_VISITS; i++) {
    const poleId = `GR-${i}`;
    const source = makeSource(makeVisitFile(poleId), { [`${poleId}.csv`]: makeCsv(i) });
    works.push(
      await time(async () => {
        const { visitId } = await importVisit(store, source);
        ids.push(visitId!);
        const answer = await callService(handlers, 'visit.assess', { visitId, decisions: [] });
        if (!answer.ok) throw new Error(answer.message);
      }),
    );
  }
  const { user, system } = process.cpuUsage(cpu);
  tell('a further visit imported and assessed', works);
  console.log(`    processor ${((user + system) / 1e3 / FURTHER_VISITS).toFixed(1)} ms each`);
  // its row is taken away and stored again: the dearest that a change of one visit can be
  await print("the register's part of a change", (i) =>
    store.db.transaction().execute(async (transaction) => {
      const id = ids[i % ids.length]!;
      await transaction.deleteFrom('register_rows').where('visit_id', '=', id).execute();
      await refreshVisits(transaction, [id]);
    }),
  );
}

async function countBytes(store: Store): Promise<number> {
  if (store.kind === 'file') return statSync(store.path).size;
  const { rows } = await sql<{ bytes: number }>`
    SELECT pg_database_size(current_database()) AS bytes`.execute(store.db);
  return Number(rows[0]!.bytes);
}

async function time(run: () => unknown): Promise<number> {
  const start = performance.now();
  await run();
  return performance.now() - start;
}

async function print(
  what: string,
  run: (i: number) => unknown,
  { between, wantedMs }: { between?: (i: number) => unknown; wantedMs?: number } = {},
): Promise<void> {
  const times: number[] = [];
  for (let i = 0; i < REPEATS; i++) {
    await between?.(i);
    times.push(await time(() => run(i)));
  }
  tell(what, times, wantedMs);
}

function tell(what: string, times: readonly number[], wantedMs?: number): void {
  const slowest = Math.max(...times);
  const misses = wantedMs !== undefined && slowest > wantedMs ? `, NOT within ${wantedMs} ms` : '';
  console.log(
    `  ${what}: median ${median(times).toFixed(1)} ms, slowest ${slowest.toFixed(1)} ms, load ${loadavg()[0]!.toFixed(0)}${misses}`,
  );
}
