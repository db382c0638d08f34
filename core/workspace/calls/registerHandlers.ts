import { basename } from 'node:path';
import { CAUTIONS } from '../../cautions.ts';
import { PROGRAM } from '../../program.ts';
import type { registerCalls } from '../contract/registerCalls.ts';
import type { HandlersOf } from '../handlers.ts';
import { importUploads } from '../importUploads.ts';
import { createRegisterSearch } from '../register/queryRegister.ts';
import { createRegisterIndex } from '../register/registerIndex.ts';
import type { Store } from '../store.ts';

export function createRegisterHandlers(store: Store): HandlersOf<typeof registerCalls> {
  const index = createRegisterIndex(store.db);
  const search = createRegisterSearch();
  return {
    'workspace.describe': async () => {
      const { rows, poles } = await index.read();
      return {
        name: basename(store.path, '.stemroot'),
        program: PROGRAM,
        visits: rows.length,
        poles,
        notAssessed: rows.filter(({ row }) => row.verdict === 'not assessed').length,
        cautions: [...CAUTIONS],
      };
    },
    'register.list': async () => ({ rows: (await index.read()).rows.map(({ row }) => row) }),
    'register.query': async ({ offset, limit, ...query }) => {
      const register = await index.read();
      const found = search.find(register, query);
      return {
        total: register.rows.length,
        matching: found.length,
        rows: found.slice(offset, offset + limit).map(({ row }) => row),
        counts: search.count(register),
      };
    },
    'visits.import': async ({ files }) => ({ outcomes: await importUploads(store, files) }),
  };
}
