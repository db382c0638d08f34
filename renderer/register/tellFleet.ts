import type { CallResponse } from '../types.ts';

type Fleet = NonNullable<CallResponse<'fleet.progress'>['fleet']>;

const SECONDS_A_MINUTE = 60;
const MINUTES_AN_HOUR = 60;

/** The progress of the machines that share the work, in one line. */
export function tellFleet(fleet: Fleet): string {
  const { visits, withoutResult, waiting, toRetry, inWork, givenUp, visitsAnHour, secondsLeft } = fleet;
  const done = visits - withoutResult;
  const counts = [
    `${waiting + toRetry} waiting`,
    `${inWork} in work`,
    `${done} of ${visits} done`,
    `${givenUp} given up`,
  ].join(', ');
  if (waiting + toRetry + inWork === 0) return `Shared work: ${counts}.`;
  if (visitsAnHour === null || secondsLeft === null) {
    return `Shared work: ${counts}. Nothing was done in the last minutes, so no time left can be told.`;
  }
  return `Shared work: ${counts}. ${visitsAnHour} visits an hour, ${tellTime(secondsLeft)} left.`;
}

/** A time to wait, to the minute; under one as such. @param seconds - at least 0 */
export function tellTime(seconds: number): string {
  if (seconds < SECONDS_A_MINUTE) return 'less than a minute';
  const minutes = Math.round(seconds / SECONDS_A_MINUTE);
  if (minutes < MINUTES_AN_HOUR) return `${minutes} min`;
  return `${Math.floor(minutes / MINUTES_AN_HOUR)} h ${minutes % MINUTES_AN_HOUR} min`;
}
