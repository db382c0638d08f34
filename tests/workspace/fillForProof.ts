import { expect } from 'vitest';
import { callService, createWorkspaceService, importVisit, type Store } from '../../core/workspace/index.ts';
import { makeCsv, makeSource, makeVisitFile } from './visitFixture.ts';

/** Three visits, each assessed, two ruled on, one ruling signed and one withdrawn: eleven entries of the trail. */
export async function fillForProof<S extends Store>(store: S) {
  const handlers = createWorkspaceService(store);
  for (const [i, pole] of ['TV-0001', 'TV-0002', 'TV-0003'].entries()) {
    await importVisit(store, makeSource(makeVisitFile(pole), { [`${pole}.csv`]: makeCsv(i) }));
  }
  const call = async (name: string, request: unknown) =>
    expect(await callService(handlers, name, request)).toMatchObject({ ok: true });
  for (const visitId of [1, 2, 3]) await call('visit.assess', { visitId, decisions: [] });
  for (const visitId of [1, 2]) {
    const said = { analyst: 'A. Analyst', decision: 'watch', reason: 'soft root' };
    await call('visit.rule', { visitId, assessmentId: visitId, ...said });
  }
  await call('ruling.sign', { rulingId: 1, person: 'B. Second' });
  await call('rulings.withdraw', { rulingIds: [2], person: 'A. Analyst' });
  return { store, handlers };
}
