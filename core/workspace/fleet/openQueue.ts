import { PgBoss } from 'pg-boss';
import { reportError } from '../../reportError.ts';
import { nameTeamPlace, ROLES, toTeamError } from '../team/index.ts';

/** Beside the store's own schema: what is in it can be dropped and made again, no result is in it. */
export const QUEUE_SCHEMA = 'stemroot_jobs';
export const ASSESS_QUEUE = 'assess';
/** Jobs that failed as often as they may: the visit stays without a result until somebody looks. */
export const GIVEN_UP_QUEUE = 'assess_given_up';

/** What a job says: the visit, and what the visit's bytes were when it was enqueued. */
export type AssessJob = { readonly visitId: number; readonly contentsSha256: string };

/** How often lost jobs are looked for, in s; every worker does, one at a time. */
const LOOK_AFTER_S = 10;
const CONNECTIONS = 3;

/**
 * Opens the queue of a team store, on connections of its own.
 * @param place - connection string
 * @param options.install - make the queue where it is missing, which wants the rights of the store's keeper
 * @param options.lookAfter - look for the jobs of workers that are gone
 * @throws StoreError as the team store does
 */
export async function openQueue(
  place: string,
  { install = false, lookAfter = false }: { install?: boolean; lookAfter?: boolean } = {},
): Promise<PgBoss> {
  const boss = new PgBoss({
    connectionString: place,
    application_name: 'stemroot queue',
    schema: QUEUE_SCHEMA,
    max: CONNECTIONS,
    schedule: false,
    migrate: install,
    createSchema: install,
    supervise: lookAfter,
    superviseIntervalSeconds: LOOK_AFTER_S,
    monitorIntervalSeconds: LOOK_AFTER_S,
    // rebuilds indexes, which only their owner may
    reindex: false,
  });
  boss.on('error', (error) => reportError('The queue', error));
  try {
    await boss.start();
  } catch (error) {
    throw toTeamError(error, nameTeamPlace(place));
  }
  return boss;
}

/** Lets analysts work through the queue, and readers count it; nobody else sees it. */
export async function grantQueue(boss: PgBoss): Promise<void> {
  await boss.getDb().executeSql(`
    GRANT USAGE ON SCHEMA ${QUEUE_SCHEMA} TO ${ROLES.read};
    GRANT SELECT ON ALL TABLES IN SCHEMA ${QUEUE_SCHEMA} TO ${ROLES.read};
    GRANT INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA ${QUEUE_SCHEMA} TO ${ROLES.analyse};
    GRANT USAGE ON ALL SEQUENCES IN SCHEMA ${QUEUE_SCHEMA} TO ${ROLES.analyse};`);
}
