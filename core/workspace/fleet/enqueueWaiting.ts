import { sql } from 'kysely';
import type { TeamStore } from '../team/index.ts';
import { listWaitingVisits } from '../visits.repository.ts';
import { ASSESS_QUEUE, GIVEN_UP_QUEUE, grantQueue, openQueue, QUEUE_SCHEMA } from './openQueue.ts';

/** Jobs that one statement takes. */
const JOBS_AT_ONCE = 1000;
/** A job whose worker gives no sign for so long is given to another, in s: longer than the chain over the longest recording. */
const SILENCE_S = 60;
const LONGEST_JOB_S = 15 * 60;
/** Further tries of a job that failed through no fault of its visit: a database away, a thread broken down. */
const RETRIES = 3;

/**
 * Puts every visit that has no result into the queue, which is made where it is missing. A visit that waits or is worked on
 * already is not put there a second time: its key is the hash of its bytes. What was given up is forgotten where the visit has got
 * its result since, or has its turn again.
 * @param place - the connection string of the store
 * @returns visits that wait for a result, and those newly put into the queue
 */
export async function enqueueWaiting(
  store: TeamStore,
  place: string,
  { silenceS = SILENCE_S }: { silenceS?: number } = {},
): Promise<{ waiting: number; enqueued: number }> {
  const boss = await openQueue(place, { install: true });
  try {
    const retries = { retryLimit: RETRIES, retryBackoff: true, retryDelay: 1 };
    await boss.createQueue(GIVEN_UP_QUEUE);
    await boss.createQueue(ASSESS_QUEUE, {
      // at most one job with a key waits or is worked on
      policy: 'exclusive',
      ...retries,
      expireInSeconds: LONGEST_JOB_S,
      heartbeatSeconds: silenceS,
      deadLetter: GIVEN_UP_QUEUE,
    });
    await grantQueue(boss);
    const waiting = await listWaitingVisits(store.db);
    let enqueued = 0;
    for (let start = 0; start < waiting.length; start += JOBS_AT_ONCE) {
      const visits = await store.db
        .selectFrom('visits')
        .select(['visit_id', 'contents_sha256'])
        .where('visit_id', 'in', waiting.slice(start, start + JOBS_AT_ONCE))
        .orderBy('visit_id')
        .execute();
      const jobs = visits.map(({ visit_id: visitId, contents_sha256: contentsSha256 }) => ({
        data: { visitId, contentsSha256 },
        singletonKey: contentsSha256,
      }));
      const made = await boss.insert(ASSESS_QUEUE, jobs, { returnId: true });
      enqueued += made?.length ?? 0;
    }
    await forgetGivenUp(store);
    return { waiting: waiting.length, enqueued };
  } finally {
    await boss.stop({ graceful: false });
  }
}

/** A job that was given up tells nothing where its visit has a result by now, or is in the queue again. */
async function forgetGivenUp({ db }: TeamStore): Promise<void> {
  await sql`DELETE FROM ${sql.table(`${QUEUE_SCHEMA}.job`)} AS given_up WHERE name = ${GIVEN_UP_QUEUE} AND (
    EXISTS (SELECT FROM assessments WHERE visit_id = (given_up.data ->> 'visitId')::bigint)
    OR EXISTS (SELECT FROM ${sql.table(`${QUEUE_SCHEMA}.job`)} AS again WHERE again.name = ${ASSESS_QUEUE}
      AND again.singleton_key = given_up.data ->> 'contentsSha256' AND again.state IN ('created', 'retry', 'active'))
  )`.execute(db);
}
