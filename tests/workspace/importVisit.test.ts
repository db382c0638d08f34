import { createHash } from 'node:crypto';
import { zstdCompressSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { PIECE_BYTES } from '../../core/workspace/compression.ts';
import { createWorkspaceService, importVisit, type Store } from '../../core/workspace/index.ts';
import { withRecordingBytes } from '../../core/workspace/withRecordingBytes.ts';
import { forcePast, runPast } from './runPast.ts';
import { LONG_S, makeCsv, makeSource, makeStore, makeVisitFile } from './visitFixture.ts';

const CSV = makeCsv();
const DAMAGED = /is not what was imported/;
const LONG_CSV = makeCsv(1, LONG_S);
const COUNTED = ['poles', 'visits', 'recordings', 'visit_recordings'] as const;

async function countRows(store: Store) {
  const counts: Record<string, number> = {};
  for (const table of COUNTED) {
    counts[table] = (await runPast(store, `SELECT 1 FROM ${table}`)).length;
  }
  return counts;
}

const hashOf = (text: string) => createHash('sha256').update(text).digest('hex');
const readText = (store: Store, sha256: string) =>
  withRecordingBytes(store.db, sha256, (bytes) => Buffer.from(bytes).toString());

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
      caution: null,
    });
    expect(await readText(store, hashOf(CSV))).toBe(CSV);
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

  it('tells of recordings that are those of another pole, at both, until one has its own', async () => {
    const store = await makeStore();
    const handlers = createWorkspaceService(store);
    const bring = (pole: string, csv: string, date: string) =>
      importVisit(store, makeSource(makeVisitFile(pole, { date }), { [`${pole}.csv`]: csv }));
    expect(await bring('TV-1', CSV, '2026-05-03')).toMatchObject({ caution: null });
    const outcome = await bring('TV-2', CSV, '2026-05-04');
    expect(outcome).toMatchObject({
      status: 'imported',
      caution: expect.stringContaining('byte for byte those of the visit to pole TV-1 of 2026-05-03'),
    });
    const readNeeds = async () =>
      (await handlers['register.list']({})).rows.map(({ need }) =>
        need.reasons.filter(({ kind }) => kind === 'another pole').map(({ words }) => words),
      );
    expect(await readNeeds()).toEqual([
      ['recordings are those of TV-2, 2026-05-04'],
      ['recordings are those of TV-1, 2026-05-03'],
    ]);
    const { compared } = await handlers['visit.open']({ visitId: 1 });
    expect(compared).toMatchObject([
      { id: 'recordings-of-another-pole', text: expect.stringContaining('pole TV-2 of 2026-05-04') },
    ]);
    expect(await bring('TV-2', makeCsv(1), '2026-05-04')).toMatchObject({ caution: null });
    expect((await readNeeds()).flat()).toEqual([]);
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
    await forcePast(store, 'UPDATE recordings SET compressed_bytes = substr(compressed_bytes, 2)');
    await expect(readText(store, hashOf(CSV))).rejects.toThrow(DAMAGED);
  });
});

describe('a long recording', () => {
  async function makeLong() {
    const store = await makeStore();
    const others = ['TV-1', 'TV-2', 'TV-3'].map((pole, i) =>
      makeSource(makeVisitFile(pole), { [`${pole}.csv`]: i === 0 ? CSV : makeCsv(i, i * LONG_S) }),
    );
    for (const source of others) expect(await importVisit(store, source)).toMatchObject({ error: null });
    return store;
  }

  it('is kept in pieces, a short one in one', async () => {
    const store = await makeLong();
    const further = (text: string) => Math.ceil(text.length / PIECE_BYTES) - 1;
    expect(further(CSV)).toBe(0);
    expect(further(LONG_CSV)).toBeGreaterThan(0);
    expect(await runPast(store, 'SELECT 1 FROM recording_pieces')).toHaveLength(
      further(LONG_CSV) + further(makeCsv(2, 2 * LONG_S)),
    );
  });

  it('is read as it was, whatever was read before it or is read beside it', async () => {
    const store = await makeLong();
    const texts = [makeCsv(2, 2 * LONG_S), LONG_CSV, CSV, LONG_CSV];
    for (const text of texts) expect(await readText(store, hashOf(text))).toBe(text);
    expect(await Promise.all(texts.map((text) => readText(store, hashOf(text))))).toEqual(texts);
  });

  it('is read where an earlier form kept it as a whole', async () => {
    const store = await makeStore();
    await importVisit(store, makeSource(makeVisitFile('TV-1'), { 'TV-1.csv': LONG_CSV }));
    const hex = zstdCompressSync(LONG_CSV).toString('hex');
    const whole = store.kind === 'file' ? `x'${hex}'` : `'\\x${hex}'`;
    await forcePast(store, `UPDATE recordings SET compressed_bytes = ${whole}`);
    await forcePast(store, 'DELETE FROM recording_pieces');
    expect(await readText(store, hashOf(LONG_CSV))).toBe(LONG_CSV);
  });

  it.each([
    ['is missing', 'DELETE FROM recording_pieces WHERE position = 1'],
    ['was changed', 'UPDATE recording_pieces SET compressed_bytes = substr(compressed_bytes, 2)'],
    [
      'was taken for another',
      'UPDATE recording_pieces SET compressed_bytes = (SELECT compressed_bytes FROM recordings WHERE recordings.sha256 = recording_pieces.sha256)',
    ],
    [
      'does not unfold, the first',
      'UPDATE recordings SET compressed_bytes = substr(compressed_bytes, 2) WHERE sha256 IN (SELECT sha256 FROM recording_pieces)',
    ],
  ])('of which a piece %s is refused, and found by a proof', async (_what, change) => {
    const store = await makeLong();
    const prove = async () => (await createWorkspaceService(store)['care.prove']({})).evidence;
    expect(await prove()).toEqual([]);
    await forcePast(store, change);
    await expect(readText(store, hashOf(makeCsv(2, 2 * LONG_S)))).rejects.toThrow(DAMAGED);
    expect((await prove()).toSorted()).toEqual(
      [LONG_CSV, makeCsv(2, 2 * LONG_S)]
        .map((text) => `Recording ${hashOf(text)} is not what was imported.`)
        .toSorted(),
    );
  });
});
