import { type ImportOutcome, importVisit, openWorkspace, type Store } from '../core/workspace/index.ts';
import { type AssessedFile, assessFile } from './assessFile.ts';
import { locateVisit } from './visitFiles.ts';

/** What one thread of a batch does with a file: the names here are those that {@link mapFiles} is given. */
export type FileTasks = {
  assess: (task: { path: string }) => AssessedFile['result'];
  importInto: (task: { path: string; workspace: Store['forThreads'] }) => Promise<ImportOutcome>;
};

const stores = new Map<string, Promise<Store>>();

export const assess: FileTasks['assess'] = ({ path }) => assessFile(path).result;

export const importInto: FileTasks['importInto'] = async ({ path, workspace }) => {
  const store = stores.get(workspace.path) ?? openWorkspace(workspace.path, workspace.options);
  stores.set(workspace.path, store);
  return importVisit(await store, locateVisit(path));
};
