import { availableParallelism } from 'node:os';
import { InputError, StoreError } from '../../core/errors.ts';
import { formatTime } from '../../core/formatNumbers.ts';
import {
  backUp,
  backupFolder,
  type CallResponse,
  isTeamPlace,
  listBackups,
  openDesk,
  openForCare,
  openStore,
  restore,
} from '../../core/workspace/index.ts';
import { print } from './print.ts';
import { withWorkspace } from './register.ts';

const BYTES_A_MEBIBYTE = 1024 ** 2;
const LONGEST_VALUE = 60;

type Repeat = CallResponse<'care.repeat'>['repeats'][number];

/** Looks at every page and every index of a workspace file, in whatever state it is. @returns 1 where something was found */
export function runCareCheck(workspace: string): number {
  const care = openForCare(workspace);
  try {
    const { faults, rows, sizeBytes } = care.check();
    print(`${workspace}: ${(sizeBytes / BYTES_A_MEBIBYTE).toFixed(1)} MiB`);
    for (const { table, count } of rows) print(`  ${table}: ${count}`);
    print(faults.length === 0 ? 'The file is whole.' : `${faults.length} faults:`);
    for (const fault of faults) print(`  ${fault}`);
    return faults.length === 0 ? 0 : 1;
  } finally {
    care.close();
  }
}

/** Proves that a workspace stands as its trail tells. @param known - hash of an entry, noted down earlier */
export async function runCareProve(workspace: string, { known }: { known?: string }): Promise<number> {
  const { holds, chain, rows, evidence, form, recordings, visits } = await prove(workspace, known);
  for (const fault of [...form, ...chain.faults, ...rows, ...evidence]) print(fault);
  for (const remark of chain.remarks) print(`Remark: ${remark}`);
  if (chain.known === false)
    print(`No entry has the hash ${known}: what stood there was cut off or written anew.`);
  if (holds) {
    print(
      `All is as the trail tells: ${chain.entries} entries, ${visits} visit files, ${recordings} recordings.`,
    );
  }
  if (chain.head) print(`Last entry: ${chain.head.seq} of ${chain.head.at}, hash ${chain.head.sha256}`);
  return holds ? 0 : 1;
}

async function prove(workspace: string, known: string | undefined): Promise<CallResponse<'care.prove'>> {
  if (isTeamPlace(workspace)) {
    return withWorkspace(workspace, async (handlers) => handlers['care.prove'](known ? { known } : {}));
  }
  const care = openForCare(workspace);
  try {
    return care.prove(known);
  } finally {
    care.close();
  }
}

/** Compares the stored register with one computed anew. @param rebuild - compute it anew first. @returns 1 where they differ */
export async function runCareRegister(
  workspace: string,
  { rebuild = false }: { rebuild?: boolean },
): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { visits, differing, astray, astrayPieces } = await handlers['care.register']({ rebuild });
    if (rebuild) print('The register was computed anew.');
    const isRight = differing + astray + astrayPieces === 0;
    print(
      isRight
        ? `The register is as computed anew: ${visits} visits.`
        : `Of ${visits} visits, ${differing} stand in the register otherwise than computed anew; ${astray} rows or counts belong to no visit; a search finds ${astrayPieces} pieces of words for more or fewer visits than have them. Mend it with: npm run -s stemroot -- care register <workspace> --rebuild`,
    );
    return isRight ? 0 : 1;
  });
}

/** Prints the latest entries of the trail, the latest first. */
export async function runCareTrail(workspace: string, { limit }: { limit: number }): Promise<number> {
  return withWorkspace(workspace, async (handlers) => {
    const { entries } = await handlers['care.trail']({ limit });
    for (const { seq, at, who, action, subject, before, after, why, rows } of entries) {
      print(`${seq}  ${formatTime(at)}  ${who}: ${action} ${subject} (${rows} rows)`);
      if (before !== null) print(`    before: ${JSON.stringify(before)}`);
      if (after !== null) print(`    after: ${JSON.stringify(after)}`);
      if (why !== null) print(`    why: ${why}`);
    }
    return 0;
  });
}

/**
 * Runs stored assessments again, of all visits or of those of one pole, on all cores. @returns 1 where one gave other bytes
 */
export async function runCareRepeat(workspace: string, poleId: string | undefined): Promise<number> {
  const desk = await openDesk(workspace, { threads: availableParallelism() });
  try {
    const { rows } = await desk.ask('register.list', {});
    const visits = rows.filter((row) => poleId === undefined || row.poleId === poleId);
    if (visits.length === 0) {
      throw new InputError(
        'pole.unknown',
        `There is no visit of ${poleId ?? 'any pole'} in this workspace.`,
        'List the workspace for the poles that are there.',
      );
    }
    let [same, differing] = [0, 0];
    const answers = visits.map(({ visitId }) => desk.ask('care.repeat', { visitId }));
    for (const [i, { poleId: pole, date }] of visits.entries()) {
      for (const repeat of (await answers[i]!).repeats) {
        if (repeat.same) same++;
        else {
          differing++;
          print(
            `${pole}, visit of ${date}, assessment ${repeat.assessmentId}: ${describeDifference(repeat)}`,
          );
        }
      }
    }
    print(`${same} assessments gave the same bytes again, ${differing} did not.`);
    return differing === 0 ? 0 : 1;
  } finally {
    await desk.close();
  }
}

function describeDifference({ program, programNow, samePicture, differences, greatest }: Repeat): string {
  const by = program === programNow ? `by this program, ${program}` : `by ${program}, this is ${programNow}`;
  const places = greatest.map(
    ({ path, stored, now, relative }) =>
      `\n    ${path}: ${shorten(stored)} -> ${shorten(now)}${relative === null ? '' : ` (${(100 * relative).toPrecision(3)} %)`}`,
  );
  const picture = samePicture ? '' : ' The picture of stem and root differs.';
  return `stored ${by}; ${differences} values differ.${picture}${places.join('')}`;
}

function shorten(value: unknown): string {
  const text = JSON.stringify(value) ?? 'nothing';
  return text.length > LONGEST_VALUE ? `${text.slice(0, LONGEST_VALUE)}...` : text;
}

/** Backs a workspace up while it may be in use. */
export async function runCareBackup(
  workspace: string,
  options: { folder?: string; keep?: number },
): Promise<number> {
  const store = openStore(workspace, { readOnly: true });
  try {
    const { path, bytes, lastEntry, removed } = await backUp(store, options);
    print(
      `Backed up to ${path} (${(bytes / BYTES_A_MEBIBYTE).toFixed(1)} MiB, up to entry ${lastEntry}); it was looked over.`,
    );
    for (const gone of removed) print(`Removed the older ${gone}`);
    return 0;
  } finally {
    await store.close();
  }
}

/** Puts a backup in the place of a workspace: the newest beside it where none is named. */
export function runCareRestore(
  workspace: string,
  named: string | undefined,
  { reason }: { reason?: string },
): number {
  const backup = named ?? listBackups(workspace, backupFolder(workspace))[0];
  if (backup === undefined) {
    throw new StoreError(
      'restore.none',
      `There is no backup of ${workspace} in ${backupFolder(workspace)}.`,
      'Name the backup to restore.',
    );
  }
  const { replaced, lastEntry } = restore(workspace, backup, { why: reason });
  print(`${workspace} is now as in ${backup}; entry ${lastEntry} of its trail tells so.`);
  if (replaced !== null) print(`What stood there before is kept in ${replaced}`);
  return 0;
}
