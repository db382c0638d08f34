import { describe, expect, it, vi } from 'vitest';
import { callService, importVisit, type Store } from '../../core/workspace/index.ts';
import { expectFrozen } from './expectFrozen.ts';
import { runPast } from './runPast.ts';
import { LONG_S, makeCsv, makeSource, makeVisitFile, makeWorkspace } from './visitFixture.ts';

vi.mock('../../core/assess.ts', async () => (await import('./fakeChain.ts')).fakeChain);

const FROZEN = [
  ['visits', 'file_name'],
  ['recordings', 'size_bytes'],
  ['recording_pieces', 'position'],
  ['visit_recordings', 'file_name'],
  ['assessments', 'verdict'],
  ['rulings', 'reason'],
] as const;

/** Each with a row, asked past the program, with none of its settings. */
async function makeFilled() {
  const { store, handlers, visitId } = await makeWorkspace();
  await callService(handlers, 'visit.assess', { visitId, decisions: [] });
  await callService(handlers, 'visit.rule', {
    visitId,
    assessmentId: 1,
    analyst: 'A',
    decision: 'watch',
    reason: 'soft root',
  });
  await importVisit(store, makeSource(makeVisitFile('TV-9'), { 'TV-9.csv': makeCsv(1, LONG_S) }));
  return store;
}

describe('evidence, results and rulings', () => {
  it('are never changed, deleted or replaced', async () => {
    const store = await makeFilled();
    for (const [table, column] of FROZEN) await expectFrozen(store, table, column);
  });
});

describe('rulings', () => {
  const insert = (store: Store, ruling: { assessmentId?: number; said: readonly string[] }) =>
    runPast(
      store,
      `INSERT INTO rulings (visit_id, assessment_id, decided_at, analyst, decision, reason)
       VALUES (1, ${ruling.assessmentId ?? 'NULL'}, '2026-05-03', ${ruling.said.map((text) => `'${text}'`).join(', ')})`,
    );

  it('cannot name an assessment of another visit', async () => {
    const store = await makeFilled();
    const said = ['A', 'keep', 'sound'];
    await expect(insert(store, { assessmentId: 2, said })).rejects.toThrow(/foreign key/i);
    const good = insert(store, { assessmentId: 1, said });
    // the database of a team has nothing against it either, but that the trail is silent
    await (store.kind === 'file' ? good : expect(good).rejects.toThrow(/no entry in the trail/));
  });

  it.each([
    ['A', 'keep', '  '],
    ['', 'keep', 'sound'],
    ['A', 'climb', 'sound'],
  ])(
    'by "%s", "%s" for "%s" are refused: a reason, an analyst and a known decision are needed',
    async (...said) => {
      await expect(insert(await makeFilled(), { said })).rejects.toThrow(/check/i);
    },
  );
});
