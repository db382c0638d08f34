import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { setTimeout } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import {
  callService,
  countFleet,
  createWorkspaceService,
  enqueueWaiting,
  importVisit,
  openStore,
  openTeamStore,
  type Store,
} from '../../core/workspace/index.ts';
import { makeCsv, makeSource, makeVisitFile } from '../workspace/visitSources.ts';

const CLI = fileURLToPath(new URL('../../host/cli.ts', import.meta.url));
const WORKERS = 3;
/** The least that the queue takes, in s: the test waits as long for the jobs of the one that was killed. */
const SILENCE_S = 10;
const POLL_MS = 100;

/** What of each assessment must be the same whoever computed it, by the bytes of its visit. */
type Results = { contents: string; inputs: string; result: string }[];

/**
 * Has three worker processes assess the same visits as one process does into a file, and kills one of them without warning while it
 * has visits in work.
 * @param place - connection string of an empty team store
 * @param file - path of a workspace file that is not there yet
 */
export async function killOneOfThree(
  place: string,
  file: string,
  visits: number,
): Promise<{ fleet: Results; single: Results; enqueuedAgain: number; givenUp: number; lost: number }> {
  const store = await openTeamStore(place);
  const alone = openStore(file, { create: true });
  try {
    for (const target of [store, alone]) await importAll(target, visits);
    const first = await enqueueWaiting(store, place, { silenceS: SILENCE_S });
    if (first.enqueued !== visits) throw new Error(`${first.enqueued} of ${visits} were enqueued`);
    // those in the queue are not put there twice
    const { enqueued: enqueuedAgain } = await enqueueWaiting(store, place, { silenceS: SILENCE_S });

    const workers = Array.from({ length: WORKERS }, () =>
      spawn(process.execPath, [CLI, 'worker', place, '--until-empty', '--json'], {
        stdio: ['ignore', 'ignore', 'inherit'],
      }),
    );
    const ended = workers.map((worker) => once(worker, 'exit'));
    const [victim] = workers;
    let lost = 0;
    for (;;) {
      const { inWork, withoutResult } = await countFleet(store);
      lost = inWork;
      if ((inWork > 0 && withoutResult < visits) || withoutResult === 0) break;
      await setTimeout(POLL_MS);
    }
    victim!.kill('SIGKILL');
    const codes = (await Promise.all(ended)).slice(1).map(([code]) => code);
    if (codes.some((code) => code !== 0)) throw new Error(`Workers ended with ${codes}`);

    const handlers = createWorkspaceService(alone);
    for (const { visit_id: visitId } of await alone.db.selectFrom('visits').select('visit_id').execute()) {
      await callService(handlers, 'visit.assess', { visitId, decisions: [] });
    }
    const { givenUp } = await countFleet(store);
    return {
      fleet: await readResults(store),
      single: await readResults(alone),
      enqueuedAgain,
      givenUp,
      lost,
    };
  } finally {
    await store.close();
    await alone.close();
  }
}

async function importAll(store: Store, visits: number): Promise<void> {
  for (let i = 0; i < visits; i++) {
    const poleId = `FL-${i}`;
    const source = makeSource(makeVisitFile(poleId), { [`${poleId}.csv`]: makeCsv(i) });
    const { error } = await importVisit(store, source);
    if (error) throw new Error(error.message);
  }
}

async function readResults({ db }: Store): Promise<Results> {
  const rows = await db
    .selectFrom('assessments')
    .innerJoin('visits', 'visits.visit_id', 'assessments.visit_id')
    .select(['contents_sha256 as contents', 'inputs_sha256 as inputs', 'result_json as result'])
    .execute();
  return rows.sort((a, b) => (a.contents < b.contents ? -1 : Number(a.contents > b.contents)));
}
