import { callService } from './callService.ts';
import type { CallAnswer, CallName } from './contract.ts';
import type { Handlers } from './handlers.ts';
import { createWorkspaceService } from './service.ts';
import { openStore } from './store.ts';

export type DeskTask = { readonly path: string; readonly name: string; readonly request: unknown };

const services = new Map<string, Handlers>();

/** Answers one long call over this thread's own connection to the workspace. */
export default function answerTask({ path, name, request }: DeskTask): Promise<CallAnswer<CallName>> {
  const handlers = services.get(path) ?? createWorkspaceService(openStore(path));
  services.set(path, handlers);
  return callService(handlers, name, request);
}
