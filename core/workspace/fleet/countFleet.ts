import { sql } from 'kysely';
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
};

/** How far a fleet is, counted now. Nothing is in the queue where none was ever made. */
export async function countFleet({ db }: TeamStore): Promise<FleetCounts> {
  const { rows: counts } = await sql<{ visits: number; without_result: number }>`
    SELECT count(*) AS visits,
      count(*) FILTER (WHERE NOT EXISTS (SELECT FROM assessments WHERE assessments.visit_id = visits.visit_id)) AS without_result
    FROM visits`.execute(db);
  const { visits, without_result: withoutResult } = counts[0]!;
  const none = { visits, withoutResult, waiting: 0, toRetry: 0, inWork: 0, givenUp: 0 };
  const { rows: there } = await sql<{ job: string | null }>`
    SELECT to_regclass(${`${QUEUE_SCHEMA}.job`})::text AS job`.execute(db);
  if (there[0]!.job === null) return none;
  const { rows } = await sql<{ name: string; state: string; jobs: number }>`
    SELECT name, state::text AS state, count(*) AS jobs FROM ${sql.table(`${QUEUE_SCHEMA}.job`)}
    WHERE name = ${ASSESS_QUEUE} OR (name = ${GIVEN_UP_QUEUE} AND NOT EXISTS (
      SELECT FROM assessments WHERE visit_id = (data ->> 'visitId')::bigint)) GROUP BY 1, 2`.execute(db);
  const count = (name: string, state: string) =>
    rows.find((row) => row.name === name && row.state === state)?.jobs ?? 0;
  return {
    ...none,
    waiting: count(ASSESS_QUEUE, 'created'),
    toRetry: count(ASSESS_QUEUE, 'retry'),
    inWork: count(ASSESS_QUEUE, 'active'),
    givenUp: count(GIVEN_UP_QUEUE, 'created'),
  };
}
