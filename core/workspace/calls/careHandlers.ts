import { createStoredAssessor } from '../assessStored.ts';
import { backUp, checkWorkspace, proveTeamStore, proveWorkspace, repeatVisit } from '../care/index.ts';
import type { careCalls } from '../contract/careCalls.ts';
import type { HandlersOf } from '../handlers.ts';
import type { RecordingReader } from '../recordingReader.ts';
import { checkRegister, rebuildRegister } from '../register/checkRegister.ts';
import { requireFile } from '../requireFile.ts';
import { requireWritable } from '../requireWritable.ts';
import type { Store } from '../store.ts';
import { tellEntry } from '../trail/index.ts';

/** A window tells of the latest and how many more there are. */
const MOST_CHANGES = 50;

export function createCareHandlers(store: Store, reader: RecordingReader): HandlersOf<typeof careCalls> {
  const assessor = createStoredAssessor(store, reader);
  return {
    'care.check': () => checkWorkspace(requireFile(store).database),
    'care.prove': ({ known }) =>
      store.kind === 'team' ? proveTeamStore(store, { known }) : proveWorkspace(store.database, { known }),
    'care.changes': async ({ after }) => {
      const rows = await store.db
        .selectFrom('trail')
        .select(['seq', 'at', 'who', 'action', 'subject'])
        .where('seq', '>', after ?? 0)
        .orderBy('seq', 'desc')
        .limit(after === undefined ? 1 : MOST_CHANGES)
        .execute();
      return {
        last: rows[0]?.seq ?? after ?? 0,
        entries:
          after === undefined
            ? []
            : rows.map(({ seq, at, who, ...told }) => ({ seq, at, who, words: tellEntry(told) })),
        now: new Date().toISOString(),
      };
    },
    'care.register': async ({ rebuild }) => {
      if (rebuild) {
        requireWritable(store);
        await rebuildRegister(store.db);
      }
      return { ...(await checkRegister(store.db)), rebuilt: rebuild };
    },
    'care.trail': async ({ before, limit }) => {
      let query = store.db.selectFrom('trail').selectAll().orderBy('seq', 'desc').limit(limit);
      if (before !== undefined) query = query.where('seq', '<', before);
      const rows = await query.execute();
      return {
        entries: rows.map(({ before_json, after_json, rows_json, previous_sha256: _, ...entry }) => ({
          ...entry,
          before: parse(before_json),
          after: parse(after_json),
          rows: JSON.parse(rows_json).length,
        })),
      };
    },
    'care.repeat': async ({ visitId }) => ({
      repeats: await repeatVisit(store.db, visitId, assessor.analyse),
    }),
    'care.backUp': () => backUp(requireFile(store)),
  };
}

function parse(json: string | null): unknown {
  return json === null ? null : JSON.parse(json);
}
