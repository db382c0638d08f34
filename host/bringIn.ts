import { StemrootError } from '../core/errors.ts';
import { type BroughtIn, openWorkspace, requireWritable } from '../core/workspace/index.ts';
import { type MapOptions, mapFiles } from './mapFiles.ts';
import { startProgress } from './progress.ts';
import { tellNotices } from './tellNotices.ts';

/**
 * Brings visit files into a workspace, made where it is missing, on all cores. One that fails is told in its outcome
 * and stops none of the others.
 * @param options.assess - those that have no result yet are assessed too
 * @returns what came of each, in the order of the files; fewer than files where it was broken off
 */
export async function bringIn(
  workspace: string,
  paths: readonly string[],
  { assess = false, ...options }: MapOptions & { readonly assess?: boolean } = {},
): Promise<BroughtIn[]> {
  const store = await openWorkspace(workspace, { create: true });
  try {
    requireWritable(store);
    tellNotices(store.notices);
    const progress = startProgress(
      assess ? 'Importing and assessing visits' : 'Importing visits',
      paths.length,
    );
    const all: BroughtIn[] = [];
    const tasks = paths.map((path) => ({ path, workspace: store.forThreads, assess }));
    for await (const one of mapFiles('bringIn', tasks, options)) {
      all.push(one instanceof StemrootError ? toFailed(paths[all.length]!, one) : one);
      progress.step();
    }
    progress.stop();
    return all;
  } finally {
    await store.close();
  }
}

function toFailed(file: string, { code, message, hint }: StemrootError): BroughtIn {
  const error = { code, message, hint };
  return {
    outcome: { file, visitId: null, poleId: null, status: 'failed', error, caution: null },
    refused: null,
  };
}
