import { CAUTIONS } from '../../core/cautions.ts';
import { InputError } from '../../core/errors.ts';
import { formatTime } from '../../core/formatNumbers.ts';
import {
  createWorkspaceService,
  type Handlers,
  openWorkspace,
  type RegisterRow,
} from '../../core/workspace/index.ts';
import { formatCautions, formatLine, formatResult } from '../formatResult.ts';
import { formatTable } from '../formatTable.ts';
import { tellNotices } from '../tellNotices.ts';
import { print } from './print.ts';

/** Opens a workspace for the time of one piece of work. */
export async function withWorkspace<T>(path: string, work: (handlers: Handlers) => Promise<T>): Promise<T> {
  const store = await openWorkspace(path);
  tellNotices(store.notices);
  try {
    return await work(createWorkspaceService(store));
  } finally {
    await store.close();
  }
}

/** Visits of a pole, by date. @throws InputError `pole.unknown` */
async function findVisitsOfPole(handlers: Handlers, poleId: string): Promise<RegisterRow[]> {
  const { rows } = await handlers['register.list']({});
  const own = rows.filter((row) => row.poleId === poleId);
  if (own.length > 0) return own;
  throw new InputError(
    'pole.unknown',
    `There is no pole "${poleId}" in this workspace.`,
    'List the workspace for the poles that are there.',
  );
}

/** The latest visit of a pole, or that of a date. @throws InputError `pole.unknown`, `pole.date`, `pole.severalVisits` */
export async function findVisitOfPole(
  handlers: Handlers,
  poleId: string,
  date: string | undefined,
): Promise<RegisterRow> {
  const visits = await findVisitsOfPole(handlers, poleId);
  if (date === undefined) return visits.at(-1)!;
  const [visit, ...others] = visits.filter((row) => row.date === date);
  if (visit && others.length === 0) return visit;
  throw new InputError(
    visit ? 'pole.severalVisits' : 'pole.date',
    `Pole ${poleId} has ${visit ? `${others.length + 1} visits` : 'no visit'} of ${date}; its dates are ${visits.map((row) => row.date).join(', ')}.`,
    visit ? 'Open the visit that you mean in the window.' : 'Give one of the dates.',
  );
}

const NO_VISITS =
  'There are no visits in this workspace yet: import visit files, or write a visit down in the window.';

/** Prints every visit as a row of a table. */
export async function runList(workspace: string): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { rows } = await handlers['register.list']({});
    const table = rows.length === 0 ? NO_VISITS : formatTable(rows);
    print(`${table}\n\n${formatCautions(CAUTIONS)}`);
    return 0;
  });
}

/** Prints the results and rulings of a pole, visit by visit. */
export async function runShow(workspace: string, poleId: string): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    for (const { visitId, date } of await findVisitsOfPole(handlers, poleId)) {
      const { assessmentId, assessment, compared, failure, rulings } = await handlers['visit.open']({
        visitId,
      });
      const result =
        assessment ??
        (failure && { visit: `visit of ${date}`, poleId, verdict: 'failed' as const, error: failure });
      print(result ? formatResult(result, compared) : `${poleId}, visit of ${date}: not assessed`);
      for (const { decidedAt, analyst, decision, reason, assessmentId: on, signed, withdrawn } of rulings) {
        print(
          `${formatLine('Ruling', `${formatTime(decidedAt)}, ${analyst}: ${decision}. ${reason}${on === assessmentId ? '' : ' (on an earlier result)'}${signed ? ` Signed by ${signed.person}.` : ''}${withdrawn ? ` Withdrawn by ${withdrawn.person}${withdrawn.reason === undefined ? '.' : `: ${withdrawn.reason}`}` : ''}`)}`,
        );
      }
      print('');
    }
    print(formatCautions(CAUTIONS));
    return 0;
  });
}
