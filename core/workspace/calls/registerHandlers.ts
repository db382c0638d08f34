import { basename } from 'node:path';
import { CAUTIONS } from '../../cautions.ts';
import { PROGRAM } from '../../program.ts';
import { listRegister } from '../assessments.repository.ts';
import type { registerCalls } from '../contract/registerCalls.ts';
import type { RegisterRow } from '../contract.ts';
import type { HandlersOf } from '../handlers.ts';
import { importUploads } from '../importUploads.ts';
import { listRulings } from '../rulings.repository.ts';
import type { Store } from '../store.ts';
import { NOT_ASSESSED } from '../summarise.ts';
import { decodeVisitFile } from '../visits.repository.ts';

export function createRegisterHandlers(store: Store): HandlersOf<typeof registerCalls> {
  const { db } = store;
  return {
    'workspace.describe': async () => {
      const register = await listRegister(db);
      return {
        name: basename(store.path, '.stemroot'),
        program: PROGRAM,
        visits: register.length,
        poles: new Set(register.map((entry) => entry.poleCode)).size,
        notAssessed: register.filter((entry) => entry.summary === null).length,
        cautions: [...CAUTIONS],
      };
    },
    'register.list': async () => {
      const rulings = await listRulings(db);
      const rows = (await listRegister(db)).map((entry): RegisterRow => {
        const { pole, measured } = decodeVisitFile(entry.fileBytes, entry.fileName);
        return {
          visitId: entry.visitId,
          poleId: pole.id,
          species: pole.species,
          classCode: pole.classCode ?? null,
          lengthM: pole.lengthM,
          date: measured.date,
          ...(entry.summary ?? NOT_ASSESSED),
          ruling: rulings.get(entry.visitId)?.[0] ?? null,
        };
      });
      return { rows };
    },
    'visits.import': async ({ files }) => ({ outcomes: await importUploads(store, files) }),
  };
}
