import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { importVisit, type Store } from '../../core/workspace/index.ts';
import { getRecordingBytes } from '../../core/workspace/visits.repository.ts';
import { forcePast, runPast } from './runPast.ts';
import { makeCsv, makeSource, makeStore, makeVisitFile } from './visitFixture.ts';

const CSV = makeCsv();
const COUNTED = ['poles', 'visits', 'recordings', 'visit_recordings'] as const;

async function countRows(store: Store) {
  const counts: Record<string, number> = {};
  for (const table of COUNTED) {
    counts[table] = (await runPast(store, `SELECT 1 FROM ${table}`)).length;
  }
  return counts;
}

describe('importVisit', () => {
  it('stores pole, visit and recordings, and gives back the bytes that it got', async () => {
    const store = await makeStore();
    const outcome = await importVisit(store, makeSource(makeVisitFile('TV-1'), { 'TV-1.csv': CSV }));
    expect(outcome).toEqual({
      file: 'a.visit.json',
      visitId: 1,
      poleId: 'TV-1',
      status: 'imported',
      error: null,
    });
    const sha256 = createHash('sha256').update(CSV).digest('hex');
    expect(Buffer.from(await getRecordingBytes(store.db, sha256)).toString()).toBe(CSV);
    expect(await countRows(store)).toEqual({ poles: 1, visits: 1, recordings: 1, visit_recordings: 1 });
  });

  it('leaves a visit as it is that is there already', async () => {
    const store = await makeStore();
    const source = makeSource(makeVisitFile('TV-1'), { 'TV-1.csv': CSV });
    await importVisit(store, source);
    const before = await countRows(store);
    expect(await importVisit(store, source)).toMatchObject({ status: 'already there', visitId: 1 });
    expect(await countRows(store)).toEqual(before);
  });

  it('takes the same visit file with another recording, and a changed visit file, as further visits', async () => {
    const store = await makeStore();
    const visit = makeVisitFile('TV-1');
    const sources = [
      makeSource(visit, { 'TV-1.csv': CSV }),
      makeSource(visit, { 'TV-1.csv': makeCsv(1) }),
      makeSource(makeVisitFile('TV-1', { date: '2026-06-01' }), { 'TV-1.csv': CSV }),
    ];
    for (const source of sources)
      expect(await importVisit(store, source)).toMatchObject({ status: 'imported' });
    expect(await countRows(store)).toEqual({ poles: 1, visits: 3, recordings: 2, visit_recordings: 3 });
  });

  it('keeps a recording once that a visit names twice', async () => {
    const store = await makeStore();
    const visit = makeVisitFile('TV-1', { files: ['x.csv', 'y.csv', 'x.csv'] });
    expect(await importVisit(store, makeSource(visit, { 'x.csv': CSV, 'y.csv': CSV }))).toMatchObject({
      status: 'imported',
    });
    expect(await countRows(store)).toMatchObject({ recordings: 1, visit_recordings: 3 });
  });

  it.each([
    ['no JSON', '{', 'visit.json', null],
    ['no UTF-8', Buffer.from([0x7b, 0xff, 0x7d]).toString('latin1'), 'visit.json', null],
    ['an unknown field', JSON.stringify({ ...makeVisitFile('TV-1'), strength: 1 }), 'visit.field', null],
    ['no recording beside it', makeVisitFile('TV-1', { files: ['none.csv'] }), 'visit.recording', 'TV-1'],
    ['a broken recording', makeVisitFile('TV-1', { files: ['bad.csv'] }), /^csv|^recording/, 'TV-1'],
  ])('stores nothing of a visit with %s, and says why', async (_what, visit, code, poleId) => {
    const store = await makeStore();
    const before = await countRows(store);
    const outcome = await importVisit(store, makeSource(visit, { 'bad.csv': 'x,y\n1,2' }, 'bad.visit.json'));
    expect(outcome).toMatchObject({ status: 'failed', visitId: null, poleId, file: 'bad.visit.json' });
    expect(outcome.error?.code).toMatch(code);
    expect(outcome.error?.hint).not.toBe('');
    expect(await countRows(store)).toEqual(before);
  });

  it('stores nothing of a visit whose second recording cannot be stored', async () => {
    const store = await makeStore();
    await runPast(store, 'ALTER TABLE visit_recordings RENAME TO gone');
    await expect(
      importVisit(store, makeSource(makeVisitFile('TV-1'), { 'TV-1.csv': CSV })),
    ).resolves.toMatchObject({ status: 'failed', error: { code: 'store.failed' } });
    await runPast(store, 'ALTER TABLE gone RENAME TO visit_recordings');
    expect(await countRows(store)).toEqual({ poles: 0, visits: 0, recordings: 0, visit_recordings: 0 });
  });

  it('finds a recording that was changed in the workspace', async () => {
    const store = await makeStore();
    await importVisit(store, makeSource(makeVisitFile('TV-1'), { 'TV-1.csv': CSV }));
    const sha256 = createHash('sha256').update(CSV).digest('hex');
    await forcePast(store, 'UPDATE recordings SET compressed_bytes = substr(compressed_bytes, 2)');
    await expect(getRecordingBytes(store.db, sha256)).rejects.toThrow(/is not what was imported/);
  });
});
