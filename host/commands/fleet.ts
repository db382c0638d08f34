import { availableParallelism } from 'node:os';
import { InputError } from '../../core/errors.ts';
import {
  countFleet,
  enqueueWaiting,
  isTeamPlace,
  openDesk,
  openTeamStore,
  requireWritable,
  type TeamStore,
  workOnFleet,
} from '../../core/workspace/index.ts';
import { stopOnInterrupt } from '../stopOnInterrupt.ts';
import { print, printJson } from './print.ts';

const SECONDS_A_MINUTE = 60;

/** Puts every visit without a result into the queue of its team store. */
export async function runEnqueue(place: string, options: { json?: boolean }): Promise<number> {
  return withTeamStore(place, async (store) => {
    requireWritable(store);
    const counts = await enqueueWaiting(store, place);
    if (options.json) printJson(counts);
    else print(`${counts.enqueued} visits enqueued; ${counts.waiting} have no result yet`);
    return 0;
  });
}

/** Works through the queue on all cores, until Ctrl-C or, where asked, until it is empty. @returns 1 where jobs were given up */
export async function runWorker(
  place: string,
  options: { untilEmpty?: boolean; json?: boolean },
): Promise<number> {
  requireTeamPlace(place);
  const threads = availableParallelism();
  const { done } = await stopOnInterrupt(async (signal) => {
    const desk = await openDesk(place, { threads });
    try {
      requireWritable(desk.store);
      return await workOnFleet(desk, place, { threads, untilEmpty: options.untilEmpty ?? false, signal });
    } finally {
      await desk.close();
    }
  });
  return withTeamStore(place, async (store) => {
    const { givenUp, withoutResult } = await countFleet(store);
    if (options.json) printJson({ done, givenUp, withoutResult });
    else
      print(
        `${done} visits assessed by this worker; ${withoutResult} have no result yet, ${givenUp} were given up`,
      );
    return givenUp > 0 ? 1 : 0;
  });
}

/** Prints how far the fleet is. */
export async function runFleet(place: string, options: { json?: boolean }): Promise<number> {
  return withTeamStore(place, async (store) => {
    const counts = await countFleet(store);
    if (options.json) printJson(counts);
    else {
      const { visits, withoutResult, waiting, toRetry, inWork, givenUp, visitsAnHour, secondsLeft } = counts;
      print(`${visits - withoutResult} of ${visits} visits have a result`);
      print(`queue: ${waiting} wait, ${inWork} in work, ${toRetry} to be tried again, ${givenUp} given up`);
      if (visitsAnHour !== null && secondsLeft !== null) {
        print(
          `lately ${visitsAnHour} visits an hour; the queue is empty in ${Math.ceil(secondsLeft / SECONDS_A_MINUTE)} min`,
        );
      }
    }
    return 0;
  });
}

async function withTeamStore(place: string, work: (store: TeamStore) => Promise<number>): Promise<number> {
  requireTeamPlace(place);
  const store = await openTeamStore(place);
  try {
    return await work(store);
  } finally {
    await store.close();
  }
}

/** @throws InputError `fleet.place` */
function requireTeamPlace(place: string): void {
  if (isTeamPlace(place)) return;
  throw new InputError(
    'fleet.place',
    `${place} is a file; only a team store has a queue that several machines share.`,
    'Give the connection string of a team store, or assess a file on all cores with: import <workspace> <paths...> --assess',
  );
}
