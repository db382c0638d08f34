import { callService } from './callService.ts';
import type { CallAnswer, CallName } from './contract.ts';
import type { Handlers } from './handlers.ts';
import { createWorkspaceService } from './service.ts';
import { openStore, type Store } from './store.ts';

export type DeskTask = {
  readonly workspace: Store['forThreads'];
  readonly name: string;
  readonly request: unknown;
};

const services = new Map<string, Handlers>();

/**
 * Answers one long call over this thread's own connection to the workspace. What a thread loads has no default export: Piscina
 * loads it by `require`, Node 24 then makes a module around the default one, and the whole process is aborted where
 * the thread is ended in that moment (module_wrap.cc, CreateRequiredModuleFacade; seen once in some thousand closings).
 */
export function answerTask({ workspace, name, request }: DeskTask): Promise<CallAnswer<CallName>> {
  const { path, options } = workspace;
  const handlers = services.get(path) ?? createWorkspaceService(openStore(path, options));
  services.set(path, handlers);
  return callService(handlers, name, request);
}
