import { type ImportOutcome, importVisit, openStore, type Store } from '../core/workspace/index.ts';
import { type AssessedFile, assessFile } from './assessFile.ts';
import { locateVisit } from './visitFiles.ts';

/** What one thread of a batch does with a file: the names here are those that {@link mapFiles} is given. */
export type FileTasks = {
  assess: (task: { path: string }) => AssessedFile['result'];
  importInto: (task: { path: string; workspace: Store['forThreads'] }) => Promise<ImportOutcome>;
};

const stores = new Map<string, Store>();

export const assess: FileTasks['assess'] = ({ path }) => assessFile(path).result;

export const importInto: FileTasks['importInto'] = ({ path, workspace }) => {
  const store = stores.get(workspace.path) ?? openStore(workspace.path, workspace.options);
  stores.set(workspace.path, store);
  return importVisit(store, locateVisit(path));
};
