import { basename } from 'node:path';
import { CAUTIONS } from '../../cautions.ts';
import { PROGRAM } from '../../program.ts';
import type { registerCalls } from '../contract/registerCalls.ts';
import type { HandlersOf } from '../handlers.ts';
import { importUploads } from '../importUploads.ts';
import { createRegisterSearch } from '../register/queryRegister.ts';
import type { IndexedRow, RegisterIndex } from '../register/registerIndex.ts';
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
        notAssessed: rows.filter(({ row }) => row.verdict === 'not assessed').length,
        cautions: [...CAUTIONS],
        readOnly: store.readOnly,
        notices: [...store.notices],
      };
    },
    'register.list': async () => ({ rows: (await index.read()).rows.map(({ row }) => row) }),
    'register.query': async ({ offset, limit, locate, ...query }) => {
      const register = await index.read();
      const found = search.find(register, query);
      return {
        total: register.rows.length,
        matching: found.length,
        place: locate === undefined ? null : placeOf(found, locate),
        rows: found.slice(offset, offset + limit).map(({ row }) => row),
        counts: search.count(register),
      };
    },
    'visits.import': async ({ files }) => ({ outcomes: await importUploads(store, files) }),
  };
}

function placeOf(found: readonly IndexedRow[], visitId: number): number | null {
  const place = found.findIndex(({ row }) => row.visitId === visitId);
  return place < 0 ? null : place;
}
