import { sql } from 'kysely';
import { countVisits, readFacets } from '../register/facets.ts';
import { isSettled } from '../register/settleRegister.ts';
import type { TeamStore } from '../team/index.ts';
import { ASSESS_QUEUE, GIVEN_UP_QUEUE, QUEUE_SCHEMA } from './openQueue.ts';

export type FleetCounts = {
  readonly visits: number;
  readonly withoutResult: number;
  /** In the queue: waiting, to be tried again, in work now; given up, and without a result from elsewhere since. */
  readonly waiting: number;
  readonly toRetry: number;
  readonly inWork: number;
  readonly givenUp: number;
  /** Jobs done lately, as a rate; null where none was. */
  readonly visitsAnHour: number | null;
  /** Until the queue is empty at this rate; null where it is not known. */
  readonly secondsLeft: number | null;
};

/** The rate is that of the last minutes: workers come and go. */
const LATELY = '10 minutes';
const SECONDS_AN_HOUR = 3600;

/** How far a fleet is, counted now by the clock of the database. Nothing is in the queue where none was ever made. */
export async function countFleet(store: TeamStore): Promise<FleetCounts> {
  const { visits, withoutResult } = await countResults(store);
  const known = (await hasQueue(store)) ? await countJobs(store) : { jobs: {}, rateHz: null };
  const count = (name: string) => known.jobs[name] ?? 0;
  const [waiting, toRetry, inWork] = [count('created'), count('retry'), count('active')];
  const { rateHz } = known;
  return {
    visits,
    withoutResult,
    waiting,
    toRetry,
    inWork,
    givenUp: count('given up'),
    visitsAnHour: rateHz && Math.round(SECONDS_AN_HOUR * rateHz),
    secondsLeft: rateHz && Math.round((waiting + toRetry + inWork) / rateHz),
  };
}

/** From what the register counts with every change, as long as it is up to date: windows ask every few seconds, among a million too. */
async function countResults({ db }: TeamStore): Promise<{ visits: number; withoutResult: number }> {
  if (await isSettled(db)) {
    const facets = await readFacets(db);
    const without = facets.filter(({ verdict }) => verdict === 'not assessed');
    return { visits: countVisits(facets), withoutResult: countVisits(without) };
  }
  const { rows } = await sql<{ visits: number; without_result: number }>`
    SELECT count(*) AS visits,
      count(*) FILTER (WHERE NOT EXISTS (SELECT FROM assessments WHERE assessments.visit_id = visits.visit_id)) AS without_result
    FROM visits`.execute(db);
  return { visits: rows[0]!.visits, withoutResult: rows[0]!.without_result };
}

/** Whether visits were ever enqueued in a team store. */
export async function hasQueue({ db }: TeamStore): Promise<boolean> {
  const { rows } = await sql<{ job: string | null }>`
    SELECT to_regclass(${`${QUEUE_SCHEMA}.job`})::text AS job`.execute(db);
  return rows[0]!.job !== null;
}

/**
 * Jobs that are not done by their state, and those done a second lately, from the start of the first of them on. Each question has an
 * index of the queue's own: among a million jobs that are done, too, windows ask every few seconds.
 */
async function countJobs({
  db,
}: TeamStore): Promise<{ jobs: Readonly<Record<string, number>>; rateHz: number | null }> {
  const job = sql.table(`${QUEUE_SCHEMA}.job`);
  const { rows } = await sql<{ state: string; jobs: number }>`
    SELECT state::text AS state, count(*) AS jobs FROM ${job}
    WHERE name = ${ASSESS_QUEUE} AND state IN ('created', 'retry', 'active') GROUP BY state
    UNION ALL
    SELECT 'given up', count(*) FROM ${job} WHERE name = ${GIVEN_UP_QUEUE} AND state = 'created' AND NOT EXISTS (
      SELECT FROM assessments WHERE visit_id = (data ->> 'visitId')::bigint)`.execute(db);
  const { rows: lately } = await sql<{ rate: number | null }>`
    SELECT (count(*) / nullif(extract(epoch FROM now() - greatest(min(started_on), now() - ${LATELY}::interval)), 0))::float8 AS rate
    FROM ${job} WHERE name = ${ASSESS_QUEUE} AND state = 'completed' AND completed_on > now() - ${LATELY}::interval`.execute(
    db,
  );
  return {
    jobs: Object.fromEntries(rows.map(({ state, jobs }) => [state, jobs])),
    rateHz: lately[0]!.rate || null,
  };
}
