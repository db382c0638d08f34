import { workerData } from 'node:worker_threads';
import { callService } from './callService.ts';
import type { CallAnswer, CallName } from './contract.ts';
import { createWorkspaceService } from './service.ts';
import { openStore } from './store.ts';

export type DeskTask = { readonly name: string; readonly request: unknown };

const { path } = workerData as { path: string };
const handlers = createWorkspaceService(openStore(path));

/** Answers one long call over this thread's own connection to the workspace. */
export default function answerTask({ name, request }: DeskTask): Promise<CallAnswer<CallName>> {
  return callService(handlers, name, request);
}
