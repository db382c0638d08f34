import {
  callService,
  type Handlers,
  type ImportOutcome,
  importVisit,
  type Store,
} from '../core/workspace/index.ts';
import { startProgress } from './progress.ts';
import { locateVisit } from './visitFiles.ts';

/** Imports visit files one after another; one that fails is told in its outcome and stops none of the others. */
export async function importFiles(store: Store, paths: readonly string[]): Promise<ImportOutcome[]> {
  const progress = startProgress('Importing visits', paths.length);
  const outcomes: ImportOutcome[] = [];
  for (const path of paths) {
    outcomes.push(await importVisit(store, locateVisit(path)));
    progress.step();
  }
  progress.stop();
  return outcomes;
}

/**
 * Assesses visits and stores each result; one that fails is stored as failed and stops none of the others.
 * @returns how many failed
 */
export async function assessVisits(handlers: Handlers, visitIds: readonly number[]): Promise<number> {
  const progress = startProgress('Assessing visits', visitIds.length);
  let failed = 0;
  for (const visitId of visitIds) {
    const answer = await callService(handlers, 'visit.assess', { visitId, decisions: [] });
    if (!answer.ok) failed++;
    progress.step();
  }
  progress.stop();
  return failed;
}
