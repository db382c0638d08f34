import { callService } from './callService.ts';
import type { CallAnswer, CallName } from './contract.ts';
import type { Handlers } from './handlers.ts';
import { openWorkspace } from './openWorkspace.ts';
import { createWorkspaceService } from './service.ts';
import type { Store } from './store.ts';

export type DeskTask = {
  readonly workspace: Store['forThreads'];
  readonly name: string;
  readonly request: unknown;
};

const services = new Map<string, Promise<Handlers>>();

/**
 * Answers one long call over this thread's own connection to the workspace. What a thread loads has no default export: Piscina
 * loads it by `require`, Node 24 then makes a module around the default one, and the whole process is aborted where
 * the thread is ended in that moment (module_wrap.cc, CreateRequiredModuleFacade; seen once in some thousand closings).
 */
export async function answerTask({ workspace, name, request }: DeskTask): Promise<CallAnswer<CallName>> {
  const { path, options } = workspace;
  const service = services.get(path) ?? openWorkspace(path, options).then(createWorkspaceService);
  services.set(path, service);
  // a database that could not be reached is tried again with the next call
  service.catch(() => services.delete(path));
  return callService(await service, name, request);
}
