import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countFleet } from '../../core/workspace/fleet/countFleet.ts';
import { createWorkspaceService } from '../../core/workspace/index.ts';
import { tellFleet, tellTime } from '../../renderer/register/tellFleet.ts';
import { hasPostgres, makeTeamStore, run } from '../team/makeTeamStore.ts';
import { createInventor, inventedSummary } from '../workspace/inventRegister.ts';
import { makeFileStore } from '../workspace/visitFixture.ts';

const NONE = { visits: 0, withoutResult: 0, waiting: 0, toRetry: 0, inWork: 0, givenUp: 0 };

/** Columns of the queue's table that are read (pg-boss keeps more). */
const QUEUE = `CREATE SCHEMA stemroot_jobs; CREATE TABLE stemroot_jobs.job
  (name text, state text, data jsonb, singleton_key text, started_on timestamptz, completed_on timestamptz)`;

describe('progress of a fleet', () => {
  it('is none on a workspace file', async () => {
    expect(await createWorkspaceService(makeFileStore())['fleet.progress']({})).toEqual({ fleet: null });
  });

  it.skipIf(!hasPostgres())('counts visits alike whether the register shows them yet or not', async () => {
    const store = await makeTeamStore();
    const invent = createInventor(store);
    const visit = { kind: 'visit', date: '2026-05-03', species: 'red-pine', recording: 0 } as const;
    await invent({ ...visit, pole: 'TV-1' }, { refresh: true });
    await invent({ ...visit, pole: 'TV-2' }, { refresh: true });
    const [summary] = fc.sample(inventedSummary, { numRuns: 1, seed: 5 });
    await invent({ kind: 'result', of: 0, summary: summary! }, { refresh: true });
    expect(await countFleet(store)).toMatchObject({ visits: 2, withoutResult: 1 });
    await invent({ ...visit, pole: 'TV-10' }, { refresh: false });
    expect(await countFleet(store)).toMatchObject({ visits: 3, withoutResult: 2 });
  });

  it.skipIf(!hasPostgres())('reckons with what was done in the last ten minutes', async () => {
    const store = await makeTeamStore();
    const ask = createWorkspaceService(store)['fleet.progress'];
    const add = (state: string, jobs: number, started: string | null, completed: string | null) =>
      run(
        store.path,
        `INSERT INTO stemroot_jobs.job SELECT 'assess', $1, '{}', NULL, now() - $2::interval, now() - $3::interval
         FROM generate_series(1, ${jobs})`,
        [state, started, completed],
      );
    await run(store.path, QUEUE);
    await add('created', 8, null, null);
    await add('active', 2, null, null);
    await add('completed', 7, '20 minutes', '15 minutes');
    expect(await ask({})).toEqual({
      fleet: { ...NONE, waiting: 8, inWork: 2, visitsAnHour: null, secondsLeft: null },
    });
    // 5 in the 6 minutes since the first of them began; by hand: 50 an hour, 10 jobs in 12 minutes
    await add('completed', 5, '6 minutes', '1 minute');
    const { fleet } = await ask({});
    // the clock of the database goes on between the rows and the question: half a minute is allowed
    expect(50 - fleet!.visitsAnHour!).toBeOneOf([0, 1, 2, 3, 4]);
    expect(fleet!.secondsLeft! - 720).toBeLessThanOrEqual(60);
    expect(fleet!.secondsLeft).toBeGreaterThanOrEqual(720);
    // one that began before the ten minutes counts from their start on: 6 in 10 minutes
    await add('completed', 1, '12 minutes', '2 minutes');
    expect(await ask({})).toMatchObject({ fleet: { visitsAnHour: 36, secondsLeft: 1000 } });
  });

  it.each([
    [0, 'less than a minute'],
    [59, 'less than a minute'],
    [60, '1 min'],
    [3570, '1 h 0 min'],
    [5400, '1 h 30 min'],
  ])('tells %d s as %s', (seconds, words) => expect(tellTime(seconds)).toBe(words));

  it('is told in one line, without a time where none is known', () => {
    const fleet = { ...NONE, visits: 20, withoutResult: 12, waiting: 8, toRetry: 1, inWork: 2, givenUp: 1 };
    const counts = 'Shared work: 9 waiting, 2 in work, 8 of 20 done, 1 given up.';
    expect(tellFleet({ ...fleet, visitsAnHour: 36, secondsLeft: 1000 })).toBe(
      `${counts} 36 visits an hour, 17 min left.`,
    );
    expect(tellFleet({ ...fleet, visitsAnHour: null, secondsLeft: null })).toMatch(
      /1 given up\. Nothing was done in the last minutes/,
    );
    const idle = { ...fleet, waiting: 0, toRetry: 0, inWork: 0, visitsAnHour: 36, secondsLeft: 0 };
    expect(tellFleet(idle)).toBe('Shared work: 0 waiting, 0 in work, 8 of 20 done, 1 given up.');
  });
});
