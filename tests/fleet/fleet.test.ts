import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ASSESS_QUEUE, openQueue } from '../../core/workspace/fleet/openQueue.ts';
import {
  countFleet,
  createWorkspaceService,
  enqueueWaiting,
  importVisit,
  openTeamStore,
  type TeamStore,
} from '../../core/workspace/index.ts';
import { runCommand } from '../host/runCommand.ts';
import { asUser, hasPostgres, makeDatabase, makeUser, run } from '../team/makeTeamStore.ts';
import { makeCsv, makeFolder, makeSource, makeVisitFile } from '../workspace/visitFixture.ts';
import { killOneOfThree } from './killOneOfThree.ts';

const VISITS = 12;
const LONGEST_MS = 180_000;

describe.skipIf(!hasPostgres())('a fleet of workers', () => {
  // `npm run test:fleet` does the same with 2,000 visits
  it(
    'loses and doubles nothing where one is killed, and gives the bytes of a single machine',
    async () => {
      const place = await makeDatabase();
      const { fleet, single, enqueuedAgain, givenUp } = await killOneOfThree(
        place,
        join(makeFolder(), 'alone.stemroot'),
        VISITS,
      );
      expect(fleet).toHaveLength(VISITS);
      expect(fleet).toEqual(single);
      expect([enqueuedAgain, givenUp]).toEqual([0, 0]);
      const { code, out } = await runCommand('fleet', place, '--json');
      expect(code).toBe(0);
      const { visitsAnHour, secondsLeft, ...counts } = JSON.parse(out);
      expect([visitsAnHour > 0, secondsLeft]).toEqual([true, 0]);
      expect(counts).toEqual({
        visits: VISITS,
        withoutResult: 0,
        waiting: 0,
        toRetry: 0,
        inWork: 0,
        givenUp: 0,
      });
    },
    LONGEST_MS,
  );

  it('stores a result once where the same visit is assessed by two', async () => {
    const store = await openTeamStore(await makeDatabase());
    const source = makeSource(makeVisitFile('TV-1'), { 'TV-1.csv': makeCsv() });
    const { visitId } = await importVisit(store, source);
    const [one, two] = [createWorkspaceService(store), createWorkspaceService(store)];
    const request = { visitId: visitId!, decisions: [], unlessThere: true };
    const results = await Promise.all([one['visit.assess'](request), two['visit.assess'](request)]);
    expect(results.map(({ assessmentId }) => assessmentId)).toEqual([1, 1]);
    // one that an analyst asks for is stored again, as ever
    const asked = await one['visit.assess']({ visitId: visitId!, decisions: [] });
    expect(asked.assessmentId).toBeGreaterThan(1);
    await store.close();
  });

  it('forgets a job that was given up once its visit is enqueued again, or has a result', async () => {
    const place = await makeDatabase();
    const store = await openTeamStore(place);
    const source = makeSource(makeVisitFile('TV-1'), { 'TV-1.csv': makeCsv() });
    const { visitId } = await importVisit(store, source);
    const handlers = createWorkspaceService(store);
    expect(await handlers['fleet.progress']({})).toEqual({ fleet: null });
    await giveUpNext(store, place);
    expect(await handlers['fleet.progress']({})).toEqual({
      fleet: { ...NOTHING_DONE, waiting: 0, givenUp: 1 },
    });
    await enqueueWaiting(store, place);
    expect(await countFleet(store)).toMatchObject({ waiting: 1, givenUp: 0 });
    await giveUpNext(store, place);
    await createWorkspaceService(store)['visit.assess']({ visitId: visitId!, decisions: [] });
    expect(await countFleet(store)).toMatchObject({ waiting: 0, givenUp: 0 });
    await enqueueWaiting(store, place);
    expect(await run(place, "SELECT FROM stemroot_jobs.job WHERE name = 'assess_given_up'")).toEqual([]);
    await store.close();
  });

  it('lets an analyst work, a reader count, and neither make the queue', async () => {
    const place = await makeDatabase();
    const store = await openTeamStore(place);
    await importVisit(store, makeSource(makeVisitFile('TV-1'), { 'TV-1.csv': makeCsv() }));
    await enqueueWaiting(store, place);
    await store.close();
    const analyst = asUser(place, await makeUser('stemroot_analyse'));
    const reader = asUser(place, await makeUser('stemroot_read'));
    const counted = await runCommand('fleet', reader);
    expect(counted.out).toBe(
      '0 of 1 visits have a result\nqueue: 1 wait, 0 in work, 0 to be tried again, 0 given up\n',
    );
    expect((await runCommand('worker', reader, '--until-empty')).code).toBe(1);
    const worked = await runCommand('worker', analyst, '--until-empty');
    expect([worked.code, worked.out]).toEqual([
      0,
      '1 visits assessed by this worker; 0 have no result yet, 0 were given up\n',
    ]);
  });
});

const NOTHING_DONE = {
  ...{ visits: 1, withoutResult: 1, toRetry: 0, inWork: 0 },
  ...{ visitsAnHour: null, secondsLeft: null },
};

/** Enqueues, and has the next job fail as often as it may. */
async function giveUpNext(store: TeamStore, place: string): Promise<void> {
  await enqueueWaiting(store, place);
  await run(place, 'UPDATE stemroot_jobs.job SET retry_limit = 0');
  const boss = await openQueue(place);
  const [job] = await boss.fetch(ASSESS_QUEUE);
  await boss.fail(ASSESS_QUEUE, job!.id);
  await boss.stop({ graceful: false });
}

describe('commands of the fleet', () => {
  it.each([['enqueue'], ['worker'], ['fleet']])('%s says that a file has no queue', async (command) => {
    const { code, error } = await runCommand(command, 'a.stemroot');
    expect(code).toBe(1);
    expect(error).toContain('a.stemroot is a file; only a team store has a queue');
  });
});
