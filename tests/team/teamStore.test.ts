import { describe, expect, it } from 'vitest';
import { createWorkspaceService, importVisit } from '../../core/workspace/index.ts';
import { listRulings } from '../../core/workspace/rulings.repository.ts';
import { makeCsv, makeSource, makeVisitFile } from '../workspace/visitFixture.ts';
import { hasPostgres, makeTeamStore } from './makeTeamStore.ts';

describe.skipIf(!hasPostgres())('a team store', () => {
  it('takes in visits, assessments and rulings, and tells of each in its trail', async () => {
    const store = await makeTeamStore();
    const handlers = createWorkspaceService(store);
    const { visitId, status, error } = await importVisit(
      store,
      makeSource(makeVisitFile('TV-0001'), { 'TV-0001.csv': makeCsv() }),
    );
    expect([status, error]).toEqual(['imported', null]);
    const { assessmentId } = await handlers['visit.assess']({ visitId: visitId!, decisions: [] });
    expect(assessmentId).toBe(1);
    const { rows } = await handlers['register.list']({});
    expect(rows).toMatchObject([{ visitId, poleId: 'TV-0001' }]);
    const { entries } = await handlers['care.trail']({ limit: 10 });
    expect(entries.map(({ action }) => action)).toEqual(['assess', 'import', 'make']);
  });

  // `IN ()` is no SQL (PostgreSQL 15 documentation, 9.24.1), where SQLite takes it for false (sqlite.org, "The IN and NOT IN operators")
  it('finds none where none of nothing is asked for', async () => {
    expect(await listRulings((await makeTeamStore()).db, { visitIds: [] })).toEqual([]);
  });
});
