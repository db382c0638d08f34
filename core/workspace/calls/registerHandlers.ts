import { basename } from 'node:path';
import { CAUTIONS } from '../../cautions.ts';
import { PROGRAM } from '../../program.ts';
import type { registerCalls } from '../contract/registerCalls.ts';
import type { HandlersOf } from '../handlers.ts';
import { importUploads } from '../importUploads.ts';
import { createRegisterSearch } from '../register/queryRegister.ts';
import type { RegisterIndex } from '../register/registerIndex.ts';
import type { Store } from '../store.ts';

export function createRegisterHandlers(store: Store, index: RegisterIndex): HandlersOf<typeof registerCalls> {
  const search = createRegisterSearch();
  return {
    'workspace.describe': async () => {
      const { rows, poles } = await index.read();
      return {
        name: basename(store.path, '.stemroot'),
        program: PROGRAM,
        visits: rows.length,
        poles,
        notAssessed: rows.filter((row) => row.verdict === 'not assessed').length,
        cautions: [...CAUTIONS],
        readOnly: store.readOnly,
        notices: [...store.notices],
      };
    },
    'register.list': async () => ({ rows: [...(await index.read()).rows] }),
    'register.query': async ({ offset, limit, locate, ...query }) => {
      const register = await index.read();
      const found = search.find(register, query);
      return {
        total: register.rows.length,
        matching: found.length,
        place:
          locate === undefined
            ? null
            : nullIfNone(found.findIndex((at) => register.rows[at]!.visitId === locate)),
        rows: Array.from(found.subarray(offset, offset + limit), (place) => register.rows[place]!),
        counts: search.count(register),
      };
    },
    'visits.import': async ({ files }) => ({ outcomes: await importUploads(store, files) }),
  };
}

function nullIfNone(place: number): number | null {
  return place < 0 ? null : place;
}
