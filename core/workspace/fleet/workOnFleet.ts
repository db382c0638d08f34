import { setTimeout } from 'node:timers/promises';
import { StemrootError } from '../../errors.ts';
import type { Desk } from '../desk.ts';
import { ASSESS_QUEUE, type AssessJob, openQueue, QUEUE_SCHEMA } from './openQueue.ts';

const POLL_S = 0.5;
/** A thread has one visit in work and the next at hand. */
const JOBS_A_THREAD = 2;
/** Refusals that are no word on the visit: the job is tried again. All others are stored as the visit's failed result. */
const NOT_THE_VISITS_FAULT = /^(store|work)\.|^internal$/;

/**
 * Takes visits out of the queue and assesses them on the desk's threads, until the signal comes, or the queue is empty. A visit whose worker
 * died is taken again by any worker; the transaction that stores a result looks whether the same one is there, so nothing is stored twice.
 * @param options.untilEmpty - return once no job waits, is worked on or will be tried again
 * @returns jobs that this worker finished
 */
export async function workOnFleet(
  desk: Desk,
  place: string,
  options: { threads: number; untilEmpty: boolean; signal: AbortSignal; onDone?: () => void },
): Promise<{ done: number }> {
  const boss = await openQueue(place, { lookAfter: true });
  let done = 0;
  try {
    await boss.work<AssessJob>(
      ASSESS_QUEUE,
      { pollingIntervalSeconds: POLL_S, localConcurrency: options.threads * JOBS_A_THREAD },
      async ([job]) => {
        await assessJob(desk, job!.data);
        done += 1;
        options.onDone?.();
      },
    );
    while (!options.signal.aborted) {
      if (options.untilEmpty && (await isEmpty(boss))) break;
      await setTimeout(1000 * POLL_S, undefined, { signal: options.signal }).catch(() => {});
    }
    return { done };
  } finally {
    // what is in work is finished and told of first
    await boss.stop({ graceful: true });
  }
}

async function assessJob(desk: Desk, { visitId, contentsSha256 }: AssessJob): Promise<void> {
  const visit = await desk.store.db
    .selectFrom('visits')
    .select('contents_sha256')
    .where('visit_id', '=', visitId)
    .executeTakeFirst();
  if (visit?.contents_sha256 !== contentsSha256) {
    throw new StemrootError(
      'fleet.otherVisit',
      `Visit ${visitId} of this store is not the one that was enqueued.`,
      'Drop the schema of the queue, and enqueue again.',
    );
  }
  const answer = await desk.answer('visit.assess', { visitId, decisions: [], unlessThere: true });
  if (!answer.ok && NOT_THE_VISITS_FAULT.test(answer.code)) {
    throw new StemrootError(answer.code, answer.message, answer.hint);
  }
}

async function isEmpty(boss: Awaited<ReturnType<typeof openQueue>>): Promise<boolean> {
  const { rows } = await boss
    .getDb()
    .executeSql(
      `SELECT 1 FROM ${QUEUE_SCHEMA}.job WHERE name = '${ASSESS_QUEUE}' AND state IN ('created', 'retry', 'active') LIMIT 1`,
    );
  return rows.length === 0;
}
