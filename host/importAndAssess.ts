import { availableParallelism } from 'node:os';
import { StemrootError } from '../core/errors.ts';
import {
  type Desk,
  type ImportOutcome,
  listWaitingVisits,
  openDesk,
  openWorkspace,
  requireWritable,
} from '../core/workspace/index.ts';
import { type MapOptions, mapFiles } from './mapFiles.ts';
import { startProgress } from './progress.ts';
import { tellNotices } from './tellNotices.ts';

/**
 * Imports visit files into a workspace, made where it is missing, on all cores. One that fails is told in its outcome
 * and stops none of the others.
 * @returns the outcomes, in the order of the files; fewer than files where it was broken off
 */
export async function importFiles(
  workspace: string,
  paths: readonly string[],
  options: MapOptions = {},
): Promise<ImportOutcome[]> {
  const store = await openWorkspace(workspace, { create: true });
  try {
    requireWritable(store);
    tellNotices(store.notices);
    const progress = startProgress('Importing visits', paths.length);
    const outcomes: ImportOutcome[] = [];
    const tasks = paths.map((path) => ({ path, workspace: store.forThreads }));
    for await (const outcome of mapFiles('importInto', tasks, options)) {
      outcomes.push(outcome instanceof StemrootError ? toOutcome(paths[outcomes.length]!, outcome) : outcome);
      progress.step();
    }
    progress.stop();
    return outcomes;
  } finally {
    await store.close();
  }
}

function toOutcome(file: string, { code, message, hint }: StemrootError): ImportOutcome {
  return { file, visitId: null, poleId: null, status: 'failed', error: { code, message, hint } };
}

/** A visit that could not be assessed, and why. */
export type FailedVisit = { readonly visitId: number; readonly message: string; readonly hint: string };

/** Opens a workspace with a thread a core. */
export function openBatchDesk(workspace: string, threads = availableParallelism()): Promise<Desk> {
  return openDesk(workspace, { threads });
}

/** Visits asked for ahead, in all: enough that no thread waits, whichever the next visits belong to. */
const ASKED_AHEAD = 32;

/**
 * Assesses those of the visits that have no result yet, on all threads of the desk. Each result is stored as it comes,
 * a failure as failed; a batch that was broken off is taken up where it stopped by asking again.
 * @returns those that failed, and how many were not begun since the signal came first
 */
export async function assessWaiting(
  desk: Desk,
  visitIds: ReadonlySet<number>,
  { signal }: Pick<MapOptions, 'signal'> = {},
): Promise<{ failed: FailedVisit[]; left: number }> {
  const waiting = (await listWaitingVisits(desk.store.db)).filter((visitId) => visitIds.has(visitId));
  const progress = startProgress('Assessing visits', waiting.length);
  const failed: FailedVisit[] = [];
  let next = 0;
  async function takeNext(): Promise<void> {
    while (!signal?.aborted && next < waiting.length) {
      const visitId = waiting[next++]!;
      const assessed = await desk.answer('visit.assess', { visitId, decisions: [] });
      if (!assessed.ok) failed.push({ visitId, message: assessed.message, hint: assessed.hint });
      progress.step();
    }
  }
  await Promise.all(Array.from({ length: ASKED_AHEAD }, takeNext));
  progress.stop();
  return { failed, left: waiting.length - next };
}
