import { type BroughtIn, createBatch, openWorkspace, type Store } from '../core/workspace/batch.ts';
import { type AssessedFile, assessFile } from './assessFile.ts';
import { locateVisit } from './visitFiles.ts';

/** What one thread of a batch does with a file: the names here are those that {@link mapFiles} is given. */
export type FileTasks = {
  assess: (task: { path: string }) => AssessedFile['result'];
  bringIn: (task: { path: string; workspace: Store['forThreads']; assess: boolean }) => Promise<BroughtIn>;
};

const batches = new Map<string, Promise<ReturnType<typeof createBatch>>>();

export const assess: FileTasks['assess'] = ({ path }) => assessFile(path).result;

export const bringIn: FileTasks['bringIn'] = async ({ path, workspace, ...options }) => {
  const batch =
    batches.get(workspace.path) ?? openWorkspace(workspace.path, workspace.options).then(createBatch);
  batches.set(workspace.path, batch);
  return (await batch)(locateVisit(path), options);
};
