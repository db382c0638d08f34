import { beforeEach, describe, expect, it, vi } from 'vitest';
import {
  type CallName,
  type CallResponse,
  callService,
  createWorkspaceService,
  type Handlers,
  importVisit,
  type RegisterRow,
} from '../../core/workspace/index.ts';
import { noticeNetwork, noticeUnfinished } from '../../core/workspace/opening/index.ts';
import { makeCsv, makeSource, makeStore, makeVisitFile } from './visitFixture.ts';

vi.mock('../../core/assess.ts', async () => (await import('./fakeChain.ts')).fakeChain);

beforeEach(() => vi.clearAllMocks());

type Answer<N extends CallName> = CallResponse<N>;

async function call<N extends CallName>(handlers: Handlers, name: N, request: unknown): Promise<Answer<N>> {
  const answer = await callService(handlers, name, request);
  if (!answer.ok) throw new Error(`${name} refused: ${answer.code} ${answer.message}`);
  return answer.value as Answer<N>;
}

/** Visits by pole and date, each with a recording of its own unless another's is given. */
async function makeRegister(visits: readonly { pole: string; date: string; seed?: number }[]) {
  const store = await makeStore();
  for (const [i, { pole, date, seed = i }] of visits.entries()) {
    const file = { ...makeVisitFile(pole, { date }), options: {} };
    await importVisit(store, makeSource(file, { [`${pole}.csv`]: makeCsv(seed) }));
  }
  return createWorkspaceService(store);
}

const query = (handlers: Handlers, request: object = {}) => call(handlers, 'register.query', request);
const names = (rows: readonly RegisterRow[]) => rows.map((row) => row.poleId);
const SIGNED = { analyst: 'A. Nalyst', decision: 'keep', reason: 'sound by every look' };

describe('workspace.describe', () => {
  it('tells of how it was opened as long as that holds: a register that is made is news no more', async () => {
    const store = await makeStore();
    const notices = [noticeUnfinished('old.stemroot', 6000), noticeNetwork('old.stemroot', 'nfs')];
    const handlers = createWorkspaceService({ ...store, notices });
    const told = (await call(handlers, 'workspace.describe', {})).notices;
    expect(told.map(({ code }) => code)).toEqual(['store.network']);
  });
});

describe('register.query', () => {
  it('of an empty workspace finds nothing', async () => {
    expect(await query(createWorkspaceService(await makeStore()))).toEqual({
      total: 0,
      matching: 0,
      place: null,
      rows: [],
      counts: { reasons: [], verdicts: [], species: [] },
    });
  });

  it('gives a stretch of the rows that match, and the place of one of them', async () => {
    const handlers = await makeRegister(
      ['TV-3', 'TV-10', 'TV-1'].map((pole) => ({ pole, date: '2026-05-03' })),
    );
    const sort = { key: 'pole', descending: false };
    const found = await query(handlers, { sort, offset: 1, limit: 1, locate: 2 });
    expect(found).toMatchObject({ total: 3, matching: 3, place: 2 });
    expect(names(found.rows)).toEqual(['TV-3']);
    expect(names((await query(handlers, { sort: { ...sort, descending: true } })).rows)).toEqual([
      'TV-10',
      'TV-3',
      'TV-1',
    ]);
    expect((await query(handlers, { search: 'tv-3', locate: 2 })).place).toBeNull();
  });

  it('keeps rows that hold every word of the search, in any case and order, reasons too', async () => {
    const handlers = await makeRegister([
      { pole: 'TV-1', date: '2026-05-03' },
      { pole: 'TV-2', date: '2026-05-03' },
    ]);
    await call(handlers, 'visit.assess', { visitId: 1, decisions: [] });
    const search = async (words: string) => names((await query(handlers, { search: words })).rows);
    const { need } = (await query(handlers, { search: 'tv-1' })).rows[0]!;
    expect(await search(`${need.reasons[0]!.words.toUpperCase()} tv-1`)).toEqual(['TV-1']);
    expect(await search('yet assessed NOT')).toEqual(['TV-2']);
    expect(await search('oak')).toEqual([]);
  });

  it('filters by verdict, species, reason and ruling, and counts them over the whole register', async () => {
    const handlers = await makeRegister([
      { pole: 'TV-1', date: '2026-05-03' },
      { pole: 'TV-2', date: '2026-05-03' },
    ]);
    await call(handlers, 'visit.assess', { visitId: 1, decisions: [] });
    await call(handlers, 'visit.rule', { visitId: 1, assessmentId: 1, ...SIGNED });
    const filter = async (request: object) => names((await query(handlers, request)).rows);
    expect(await filter({ verdicts: ['assessed'] })).toEqual(['TV-1']);
    expect(await filter({ reasons: ['not assessed'] })).toEqual(['TV-2']);
    expect(await filter({ ruled: 'ruled' })).toEqual(['TV-1']);
    expect(await filter({ ruled: 'waiting' })).toEqual(['TV-2']);
    expect(await filter({ species: ['red-pine'] })).toEqual([]);
    expect((await query(handlers, { search: 'tv-2' })).counts).toMatchObject({
      verdicts: [
        { value: 'assessed', visits: 1 },
        { value: 'not assessed', visits: 1 },
      ],
      reasons: [{ value: 'not assessed', visits: 1 }],
    });
  });

  it('refuses an order, a reason or a stretch that is none', async () => {
    const handlers = createWorkspaceService(await makeStore());
    for (const request of [
      { sort: { key: 'colour', descending: true } },
      { reasons: ['bad mood'] },
      { offset: -1 },
      { limit: 501 },
    ]) {
      expect(await callService(handlers, 'register.query', request)).toMatchObject({ code: 'call.request' });
    }
  });
});

const visits = [
  { pole: 'TV-1', date: '2016-05-03' },
  { pole: 'TV-1', date: '2026-05-03' },
];

describe('a row', () => {
  it('knows whether the ground line was inspected, with and without a result', async () => {
    const store = await makeStore();
    const open = makeVisitFile('TV-1');
    const bored = { ...open, measured: { ...open.measured, shellThicknessM: 0.05, date: '2026-05-04' } };
    for (const visit of [open, bored]) await importVisit(store, makeSource(visit, { 'TV-1.csv': makeCsv() }));
    const { rows } = await query(createWorkspaceService(store), { sort: { key: 'date', descending: false } });
    expect(rows.map((row) => row.isGroundLineInspected)).toEqual([false, true]);
  });
});

describe('visits to one pole', () => {
  const standings = async (handlers: Handlers) =>
    (await query(handlers, { sort: { key: 'date', descending: false } })).rows.map((row) => row.standing);

  it('leave the latest waiting, the earlier ones settled', async () => {
    const handlers = await makeRegister(visits);
    expect(await standings(handlers)).toEqual(['earlier', 'latest']);
    const { rows } = await query(handlers, { sort: { key: 'date', descending: false } });
    expect(rows.map((row) => row.need.score > 0)).toEqual([false, true]);
    expect(names((await query(handlers, { latestOnly: true })).rows)).toHaveLength(1);
  });

  it('of which a later file shares a recording are one visit, corrected; another pole’s is not', async () => {
    const corrected = await makeRegister([visits[1]!, { ...visits[1]!, date: '2026-05-04', seed: 0 }]);
    expect(await standings(corrected)).toEqual(['corrected', 'latest']);
    const others = await makeRegister([visits[1]!, { pole: 'TV-2', date: '2026-05-04', seed: 0 }]);
    expect(await standings(others)).toEqual(['latest', 'latest']);
  });
});

describe('pole.history', () => {
  it('tells every visit by date, what changed since, and which file corrects which', async () => {
    const handlers = await makeRegister([...visits, { ...visits[1]!, date: '2026-05-04', seed: 1 }]);
    await call(handlers, 'visit.assess', { visitId: 1, decisions: [] });
    await call(handlers, 'visit.assess', {
      visitId: 3,
      decisions: [{ plane: 0, number: 1, frequencyHz: 2 }],
    });
    const history = await call(handlers, 'pole.history', { visitId: 3 });
    expect(history).toMatchObject({ poleId: 'TV-1', latitude: expect.any(Number) });
    expect(history.visits.map(({ date, correctedBy }) => [date, correctedBy])).toEqual([
      ['2016-05-03', null],
      ['2026-05-03', 3],
      ['2026-05-04', null],
    ]);
    const [first, , last] = history.visits;
    expect(first).toMatchObject({ verdict: 'assessed', changes: null, modulusPa: { value: 10.42e9 } });
    expect(first!.modes[0]).toMatchObject({
      plane: 0,
      number: 1,
      frequencyHz: { value: expect.any(Number) },
    });
    expect(last!.changes).toMatch(/^f1 of plane 1 \(0°\) \d+ % lower than on 2016-05-03$/);
  });

  it('of a visit that is not there is refused', async () => {
    const handlers = createWorkspaceService(await makeStore());
    expect(await callService(handlers, 'pole.history', { visitId: 1 })).toMatchObject({
      code: 'visit.unknown',
    });
  });
});

describe('rulings', () => {
  async function makeAssessed(count: number) {
    const handlers = await makeRegister(
      Array.from({ length: count }, (_, i) => ({ pole: `TV-${i + 1}`, date: '2026-05-03' })),
    );
    for (let visitId = 1; visitId <= count; visitId++) {
      await call(handlers, 'visit.assess', { visitId, decisions: [] });
    }
    const visits = Array.from({ length: count }, (_, i) => ({
      visitId: i + 1,
      poleId: `TV-${i + 1}`,
      assessmentId: i + 1,
    }));
    return { handlers, visits };
  }
  const settled = async (handlers: Handlers) =>
    (await query(handlers, { sort: { key: 'pole', descending: false } })).rows.map(
      (row) => row.need.score === 0,
    );

  it('on several visits are stored together, or not at all', async () => {
    const { handlers, visits } = await makeAssessed(3);
    const outdated = [...visits.slice(0, 2), { visitId: 3, poleId: 'TV-3', assessmentId: null }];
    expect(await callService(handlers, 'visits.rule', { visits: outdated, ...SIGNED })).toMatchObject({
      code: 'store.conflict',
      message: expect.stringContaining('TV-3'),
    });
    expect(await settled(handlers)).toEqual([false, false, false]);
    const { rulings } = await call(handlers, 'visits.rule', { visits: visits.slice(0, 2), ...SIGNED });
    expect(rulings.map(({ reason }) => reason)).toEqual([SIGNED.reason, SIGNED.reason]);
    expect(await settled(handlers)).toEqual([true, true, false]);
  });

  it('chosen for one pole never land on another that has its number now', async () => {
    const { handlers, visits } = await makeAssessed(2);
    const swapped = [visits[0]!, { ...visits[1]!, poleId: 'KV-9' }];
    expect(await callService(handlers, 'visits.rule', { visits: swapped, ...SIGNED })).toEqual({
      ok: false,
      code: 'ruling.otherPole',
      message:
        'The visit that was chosen of pole KV-9 is not in this workspace: under its number there is a visit to pole TV-2.',
      hint: 'Nothing was stored. Choose the visits anew in the register.',
    });
    expect(await settled(handlers)).toEqual([false, false]);
  });

  it('are withdrawn once, stay on record, and leave the visit waiting again', async () => {
    const { handlers, visits } = await makeAssessed(1);
    await call(handlers, 'visits.rule', { visits, ...SIGNED });
    const withdrawn = { person: 'B. Oss', markedAt: expect.any(String) };
    const takeBack = { rulingIds: [1], person: 'B. Oss', reason: 'the wrong pole' };
    expect(await call(handlers, 'rulings.withdraw', takeBack)).toMatchObject({
      rulings: [{ rulingId: 1, withdrawn }],
    });
    expect(await settled(handlers)).toEqual([false]);
    const opened = await call(handlers, 'visit.open', { visitId: 1 });
    expect(opened.rulings).toMatchObject([{ decision: 'keep', withdrawn }]);
    expect(await callService(handlers, 'rulings.withdraw', { rulingIds: [1], person: 'C' })).toMatchObject({
      code: 'ruling.withdrawn',
      message: expect.stringContaining('B. Oss'),
    });
    expect(await callService(handlers, 'ruling.sign', { rulingId: 1, person: 'C' })).toMatchObject({
      code: 'ruling.withdrawn',
    });
  });

  it('that are signed, or another person’s, are withdrawn only for a reason, which is told with the ruling', async () => {
    const { handlers, visits } = await makeAssessed(3);
    const { analyst } = SIGNED;
    await call(handlers, 'visits.rule', { visits: visits.slice(0, 2), ...SIGNED });
    await call(handlers, 'visits.rule', { visits: visits.slice(2), ...SIGNED, secondPerson: 'B. Oss' });
    await call(handlers, 'rulings.withdraw', { rulingIds: [1], person: ` ${analyst.toUpperCase()}` });
    expect(await callService(handlers, 'rulings.withdraw', { rulingIds: [2], person: 'C' })).toMatchObject({
      code: 'ruling.reason',
      message: `The ruling “${SIGNED.decision}” by ${analyst} is taken back only for a reason.`,
    });
    const both = { rulingIds: [2, 3], person: analyst };
    expect(await callService(handlers, 'rulings.withdraw', both)).toMatchObject({
      code: 'ruling.reason',
      message: `The ruling “${SIGNED.decision}” signed by B. Oss is taken back only for a reason.`,
    });
    expect(await settled(handlers)).toEqual([false, true, true]);
    await call(handlers, 'rulings.withdraw', { ...both, reason: ' felled meanwhile ' });
    expect(await settled(handlers)).toEqual([false, false, false]);
    const { entries } = await call(handlers, 'care.trail', { limit: 1 });
    expect(entries).toMatchObject([{ subject: 'ruling 3', why: 'felled meanwhile' }]);
    const reasonOf = async (visitId: number) =>
      (await call(handlers, 'visit.open', { visitId })).rulings[0]!.withdrawn!.reason;
    expect(await reasonOf(1)).toBeUndefined();
    expect(await reasonOf(3)).toBe('felled meanwhile');
  });

  it('keep a pole against its result only where somebody says so', async () => {
    const handlers = await makeRegister([{ pole: 'TV-FAILS', date: '2026-05-03' }]);
    const keep = { visits: [{ visitId: 1, poleId: 'TV-FAILS', assessmentId: null }], ...SIGNED };
    expect(await callService(handlers, 'visits.rule', keep)).toMatchObject({
      code: 'ruling.against',
      message:
        'This speaks against keeping:\nThe visit was not assessed, so nothing is known of the strength: TV-FAILS.',
    });
    expect((await call(handlers, 'visit.open', { visitId: 1 })).rulings).toEqual([]);
    await call(handlers, 'visits.rule', { ...keep, decision: 'watch' });
    await call(handlers, 'visits.rule', { ...keep, inSpite: true });
    expect(
      (await call(handlers, 'visit.open', { visitId: 1 })).rulings.map(({ decision }) => decision),
    ).toEqual(['keep', 'watch']);
  });

  it('tell every pole that its result speaks against, by reason, before any is kept', async () => {
    const handlers = await makeRegister([
      { pole: 'TV-1', date: '2016-05-03' },
      { pole: 'TV-1', date: '2026-05-03' },
      { pole: 'TV-2', date: '2026-05-04' },
    ]);
    const visits = ['TV-1', 'TV-1', 'TV-2'].map((poleId, i) => ({
      visitId: i + 1,
      poleId,
      assessmentId: null,
    }));
    const refused = await callService(handlers, 'visits.rule', { visits, ...SIGNED });
    expect(refused).toMatchObject({
      code: 'ruling.against',
      message: expect.stringMatching(/strength: TV-1 \(2016-05-03\), TV-1 \(2026-05-03\), TV-2\.$/),
      hint: expect.stringContaining('these 2 poles are kept'),
    });
    for (const { visitId } of visits)
      expect((await call(handlers, 'visit.open', { visitId })).rulings).toEqual([]);
  });

  it('take one second signature, of somebody else', async () => {
    const { handlers, visits } = await makeAssessed(1);
    const twice = { visits, ...SIGNED, secondPerson: ' a. nalyst ' };
    expect(await callService(handlers, 'visits.rule', twice)).toMatchObject({ code: 'ruling.samePerson' });
    expect((await call(handlers, 'visit.open', { visitId: 1 })).rulings).toEqual([]);
    const { rulings } = await call(handlers, 'visits.rule', { visits, ...SIGNED });
    const { rulingId } = rulings[0]!;
    expect(await call(handlers, 'ruling.sign', { rulingId, person: 'B. Oss' })).toMatchObject({
      signed: { person: 'B. Oss' },
    });
    expect(await callService(handlers, 'ruling.sign', { rulingId, person: 'C' })).toMatchObject({
      code: 'ruling.signed',
    });
    expect(await callService(handlers, 'ruling.sign', { rulingId: rulingId + 9, person: 'C' })).toMatchObject(
      {
        code: 'ruling.unknown',
      },
    );
  });

  it('on an earlier result leave the newer one waiting, and say so', async () => {
    const { handlers, visits } = await makeAssessed(1);
    await call(handlers, 'visits.rule', { visits, ...SIGNED });
    await call(handlers, 'visit.assess', { visitId: 1, decisions: [] });
    const [row] = (await query(handlers)).rows;
    expect(row!.need.reasons).toContainEqual({
      kind: 'newer than ruling',
      words: 'ruled "keep" on an earlier result',
    });
  });
});

describe('choices', () => {
  it('are kept by name, replaced, and there again for another window', async () => {
    const store = await makeStore();
    const handlers = createWorkspaceService(store);
    await call(handlers, 'choices.keep', { name: 'views', choices: [1] });
    await call(handlers, 'choices.keep', { name: 'views', choices: [{ name: 'near' }] });
    const recalled = await call(createWorkspaceService(store), 'choices.recall', {
      names: ['views', 'bench/7'],
    });
    expect(recalled).toEqual({ choices: { views: [{ name: 'near' }] } });
  });

  it.each([
    ['', null],
    ['Views', null],
    ['a/../b', null],
    ['views', 'x'.repeat(600_000)],
  ])('under a name like "%s" are refused where name or size is wrong', async (name, choices) => {
    const handlers = createWorkspaceService(await makeStore());
    expect(await callService(handlers, 'choices.keep', { name, choices })).toMatchObject({
      code: 'call.request',
    });
  });
});
