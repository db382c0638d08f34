import { callHost } from '../client.ts';

/** A pointer that rests on a visit this long is about to open it, more often than not; one that moves on is not. */
const REST_MS = 100;

let timer = 0;
let wanted: number | null = null;
let last: number | null = null;
let isReading = false;

/**
 * Has the program read the recordings of a visit that is looked at and may be opened next, so that it opens at once. Of several
 * in a row only the newest is read; what cannot be read is told where the visit is opened.
 */
export function readAhead(visitId: number | undefined): void {
  window.clearTimeout(timer);
  if (visitId === undefined || visitId === last) return;
  timer = window.setTimeout(() => {
    wanted = visitId;
    if (!isReading) void follow();
  }, REST_MS);
}

async function follow(): Promise<void> {
  isReading = true;
  while (wanted !== null && wanted !== last) {
    last = wanted;
    await callHost('visit.recordings', { visitId: last });
  }
  isReading = false;
}
