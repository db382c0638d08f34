import { useEffect, useRef } from 'react';
import { callHost } from '../client.ts';
import type { Decision } from '../types.ts';

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

/** By then the pictures of a visit that was just opened are drawn, and one that was only leafed past has been left. */
const DRAWN_MS = 1000;

/**
 * Has the program analyse a visit that is shown by its stored result, once its recordings are read: the first pick that is moved is
 * then fitted as quickly as the next.
 * @param decisions - of the stored result; null waits
 */
export function useFitAhead(visitId: number, decisions: readonly Decision[] | null): void {
  const decisionsRef = useRef(decisions);
  decisionsRef.current = decisions;
  const isWanted = decisions !== null;
  useEffect(() => {
    if (!isWanted) return;
    const timer = setTimeout(() => {
      const { current } = decisionsRef;
      if (current !== null) void callHost('visit.tryPicks', { visitId, decisions: [...current] });
    }, DRAWN_MS);
    return () => clearTimeout(timer);
  }, [visitId, isWanted]);
}
