import { copyFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { composeAssessment, insertAssessment } from '../../core/workspace/assessments.repository.ts';
import { createWorkspaceService, importVisit, openStore } from '../../core/workspace/index.ts';
import { appendTrail } from '../../core/workspace/trail/index.ts';
import { makeVisit } from './jobs.ts';

export const FIRST_FORM = fileURLToPath(new URL('../workspace/fixtures/v1.stemroot', import.meta.url));

/** Results that a recompute has to work through: enough for it to be killed in the midst of. */
const RESULTS = 60;

/** Makes a workspace with visits and results, so that every job has something to do from its first moment. */
export async function makeFilledWorkspace(path: string): Promise<void> {
  copyFileSync(FIRST_FORM, path);
  const store = openStore(path);
  const handlers = createWorkspaceService(store);
  const { assessment } = await handlers['visit.assess']({ visitId: 1, decisions: [] });
  for (let i = 0; i < RESULTS; i++) {
    const poleId = `FT-${i}`;
    const { visitId } = await importVisit(store, makeVisit(poleId, i + 1000));
    await store.db.transaction().execute(async (transaction) => {
      await insertAssessment(
        transaction,
        composeAssessment({
          visitId: visitId!,
          visitFileSha256: '0'.repeat(64),
          recordings: [],
          calibrationSha256: null,
          profileId: null,
          decisions: [],
          result: { ...assessment, poleId },
          picture: null,
        }),
      );
      await appendTrail(transaction, { action: 'assess', subject: `visit ${visitId}` });
    });
  }
  await store.close();
}
