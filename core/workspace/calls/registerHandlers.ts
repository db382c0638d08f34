import { basename } from 'node:path';
import { CAUTIONS } from '../../cautions.ts';
import { PROGRAM } from '../../program.ts';
import { REGISTER_NOTICE, type registerCalls, registerQuerySchema } from '../contract/registerCalls.ts';
import type { HandlersOf } from '../handlers.ts';
import { importUploads } from '../importUploads.ts';
import type { Register } from '../register/openRegister.ts';
import type { Store } from '../store.ts';
import { WORKSPACE_ENDING } from '../workspaceEnding.ts';

/** All visits, by pole and date. */
const EVERY_VISIT = registerQuerySchema.parse({ sort: { key: 'pole', descending: false } });

export function createRegisterHandlers(store: Store, register: Register): HandlersOf<typeof registerCalls> {
  return {
    'workspace.describe': async () => {
      const unfinished = await register.settleSoon();
      return {
        name: basename(store.path, WORKSPACE_ENDING),
        program: PROGRAM,
        ...(await register.summarise()),
        cautions: [...CAUTIONS],
        readOnly: store.readOnly,
        // that the register is being made is news until it is
        notices: store.notices.filter(({ code }) => code !== REGISTER_NOTICE || unfinished > 0),
      };
    },
    'register.list': async () => ({ rows: await register.listAll(EVERY_VISIT) }),
    'register.query': async ({ offset, limit, locate, ...query }) => {
      const unfinished = await register.settleSoon();
      const found = await register.find(query);
      return {
        total: found.total,
        matching: found.matching,
        ...(found.moreThan !== null && { moreThan: found.moreThan }),
        place: locate === undefined ? null : await found.locate(locate),
        rows: await register.read(await found.read(offset, limit)),
        counts: await register.count(),
        ...(unfinished > 0 && { unfinished }),
      };
    },
    'visits.import': async ({ files }) => ({ outcomes: await importUploads(store, files) }),
  };
}
