import { copyFileSync } from 'node:fs';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { handbookCalibration } from '../../core/strength/index.ts';
import { HANDBOOK, type KeptCalibration } from '../../core/workspace/calibration/calibrations.repository.ts';
import { recomputeStrength } from '../../core/workspace/calibration/recomputeStrength.ts';
import {
  backUp,
  createWorkspaceService,
  type FileStore,
  importVisit,
  openStore,
} from '../../core/workspace/index.ts';
import { makeCsv, makeSource, makeVisitFile } from '../workspace/visitSources.ts';

/** What was told to be stored, and so must be there afterwards. */
export type Acknowledged =
  | { job: 'import'; visitId: number; poleId: string }
  | { job: 'assess'; assessmentId: number; visitId: number }
  | { job: 'rule'; rulingId: number; reason: string }
  | { job: 'recompute'; recomputeId: number; recomputed: number }
  | { job: 'migrate'; path: string }
  | { job: 'backup'; path: string; lastEntry: number };

export type JobName = Acknowledged['job'];

/** The handbook's under another name, so that there is always something to recompute. */
const OTHER: KeptCalibration = {
  ...HANDBOOK,
  label: `other@${handbookCalibration.version}`,
  calibration: { ...handbookCalibration, name: 'other' },
};

type Task = {
  workspace: string;
  /** A kept file of the first form. */
  firstForm: string;
  tell: (done: Acknowledged) => void;
};

/** Each does one kind of work over and over, telling what was stored once it was, until its process is killed. */
export const jobs: Readonly<Record<JobName, (task: Task) => Promise<never>>> = {
  import: ({ workspace, tell }) =>
    again(workspace, async (store, i) => {
      const poleId = `FT-${process.pid}-${i}`;
      const { visitId } = await importVisit(store, makeVisit(poleId, i));
      tell({ job: 'import', visitId: visitId!, poleId });
    }),
  assess: ({ workspace, tell }) => {
    let handlers: ReturnType<typeof createWorkspaceService> | undefined;
    return again(workspace, async (store, i) => {
      handlers ??= createWorkspaceService(store);
      const visitId = 1 + (i % 2);
      const { assessmentId } = await handlers['visit.assess']({ visitId, decisions: [] });
      tell({ job: 'assess', assessmentId, visitId });
    });
  },
  rule: ({ workspace, tell }) =>
    again(workspace, async (store, i) => {
      const reason = `reason ${process.pid} ${i}`;
      const handlers = createWorkspaceService(store);
      const said = { analyst: 'A. Analyst', decision: 'watch', reason } as const;
      const { assessmentId } = await handlers['visit.open']({ visitId: 1 });
      const { rulingId } = await handlers['visit.rule']({ visitId: 1, assessmentId, ...said });
      tell({ job: 'rule', rulingId, reason });
    }),
  recompute: ({ workspace, tell }) => {
    const calibrations = [OTHER, HANDBOOK];
    return again(workspace, async (store, i) => {
      const outcome = await recomputeStrength(store, calibrations[i % 2]!, { askedBy: 'A. Engineer' });
      if (outcome.state !== 'completed') throw new Error(`A recompute ended as ${outcome.state}.`);
      const { recomputeId, recomputed } = outcome;
      tell({ job: 'recompute', recomputeId, recomputed });
    });
  },
  migrate: async ({ workspace, firstForm, tell }) => {
    for (let i = 0; ; i++) {
      const path = join(workspace, '..', `old-${process.pid}-${i}.stemroot`);
      copyFileSync(firstForm, path);
      await openStore(path).close();
      tell({ job: 'migrate', path });
    }
  },
  backup: ({ workspace, tell }) =>
    again(workspace, async (store, i) => {
      await importVisit(store, makeVisit(`FT-${process.pid}-${i}`, i));
      const { path, lastEntry } = await backUp(store, { keep: 3 });
      tell({ job: 'backup', path, lastEntry });
    }),
};

async function again(
  workspace: string,
  work: (store: FileStore, i: number) => Promise<void>,
): Promise<never> {
  const store = openStore(workspace);
  for (let i = 0; ; i++) {
    await work(store, i);
    await setImmediate();
  }
}

/** A visit with its recording, other than all before it. */
export function makeVisit(poleId: string, seed: number) {
  return makeSource(makeVisitFile(poleId), { [`${poleId}.csv`]: makeCsv(seed) }, `${poleId}.visit.json`);
}
