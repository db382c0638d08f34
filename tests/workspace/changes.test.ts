import { expect, it, vi } from 'vitest';
import { callService, createWorkspaceService } from '../../core/workspace/index.ts';
import { makeWorkspace } from './visitFixture.ts';

vi.mock('../../core/assess.ts', async () => (await import('./fakeChain.ts')).fakeChain);

it('a window learns what another changed, who and when, and knows its own changes', async () => {
  const { store, handlers: own, visitId } = await makeWorkspace();
  const others = createWorkspaceService(store);
  const { last, entries } = await own['care.changes']({});
  expect([last, entries]).toEqual([2, []]);
  expect(await own['care.changes']({ after: last })).toMatchObject({ last, entries: [] });

  const assessed = await callService(others, 'visit.assess', { visitId, decisions: [] });
  expect(assessed).toMatchObject({ ok: true, wrote: [3] });
  const ruling = { visitId, assessmentId: 1, analyst: 'A. Nalyst', decision: 'watch', reason: 'soft root' };
  expect(await callService(own, 'visit.rule', ruling)).toMatchObject({ ok: true, wrote: [4] });
  expect(await callService(own, 'register.list', {})).not.toHaveProperty('wrote');
  const changes = await own['care.changes']({ after: last });
  expect(changes).toMatchObject({
    last: 4,
    entries: [
      { seq: 4, who: 'A. Nalyst', words: 'A ruling on TV-0001 was made' },
      { seq: 3, words: 'A result of TV-0001 was stored' },
    ],
  });
  expect(Date.parse(changes.now)).toBeGreaterThanOrEqual(Date.parse(changes.entries[0]!.at));
});

it('what was refused wrote nothing', async () => {
  const { handlers, visitId } = await makeWorkspace();
  const { last } = await handlers['care.changes']({});
  const ruling = { visitId, assessmentId: 7, analyst: 'A. Nalyst', decision: 'watch', reason: 'soft root' };
  expect(await callService(handlers, 'visit.rule', ruling)).not.toHaveProperty('wrote');
  expect(await handlers['care.changes']({ after: last })).toMatchObject({ last, entries: [] });
});
