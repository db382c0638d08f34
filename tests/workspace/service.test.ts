import { basename } from 'node:path';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import {
  type CallName,
  callService,
  contract,
  createWorkspaceService,
  type Handlers,
  importVisit,
} from '../../core/workspace/index.ts';
import { BREAKING_POLE, FAILING_POLE, fakeChain } from './fakeChain.ts';
import { runPast } from './runPast.ts';
import { makeCsv, makeSource, makeStore, makeVisitFile, makeWorkspace } from './visitFixture.ts';

vi.mock('../../core/assess.ts', async () => (await import('./fakeChain.ts')).fakeChain);

beforeEach(() => vi.clearAllMocks());

/** Calls, insists on success, and holds the answer against the contract after the trip through JSON. */
async function call<N extends CallName>(handlers: Handlers, name: N, request: unknown) {
  const answer = await callService(handlers, name, request);
  if (!answer.ok) throw new Error(`${name} refused: ${answer.code} ${answer.message}`);
  const carried = JSON.parse(JSON.stringify(answer.value));
  return contract[name].response.parse(carried) as never;
}

const MOVED = [{ plane: 0, number: 1, frequencyHz: 2.5 }];

// RFC 8785, 3.2.2.2: canonical JSON has no form for half of a surrogate pair
it('refuses half of a character wherever a request holds it, before anything is stored', async () => {
  const { store, handlers } = await makeWorkspace();
  for (const request of [
    { calibrationId: null, chosenBy: '\ud800' },
    { calibrationId: null, chosenBy: 'A', reason: 'soft \udc00 root' },
  ]) {
    expect(await callService(handlers, 'calibration.use', request)).toMatchObject({
      ok: false,
      code: 'call.request',
      message: expect.stringContaining('half of a character'),
    });
  }
  const kept = { name: 'register/x', choices: { a: [{ '\ud800': 1 }] } };
  expect(await callService(handlers, 'choices.keep', kept)).toMatchObject({ code: 'call.request' });
  const { entries } = await handlers['care.trail']({ limit: 10 });
  expect(entries.map(({ action }) => action)).not.toContain('use');
  await store.close();
});

describe('the register', () => {
  it('is empty in a new workspace', async () => {
    const store = await makeStore();
    const handlers = createWorkspaceService(store);
    expect(await call(handlers, 'register.list', {})).toEqual({ rows: [] });
    expect(await call(handlers, 'workspace.describe', {})).toMatchObject({
      name: basename(store.path, '.stemroot'),
      visits: 0,
      poles: 0,
    });
  });

  it('lists visits by pole and date with their latest result and ruling', async () => {
    const store = await makeStore();
    const dates = [
      ['TV-2', '2026-05-01'],
      ['TV-1', '2026-06-01'],
      ['TV-1', '2019-06-01'],
    ] as const;
    for (const [pole, date] of dates) {
      await importVisit(
        store,
        makeSource(makeVisitFile(pole, { date }), { [`${pole}.csv`]: makeCsv(Number(pole === 'TV-2')) }),
      );
    }
    const handlers = createWorkspaceService(store);
    await call(handlers, 'visit.assess', { visitId: 2, decisions: [] });
    await call(handlers, 'visit.assess', { visitId: 2, decisions: MOVED });
    for (const decision of ['watch', 'keep']) {
      await call(handlers, 'visit.rule', {
        visitId: 2,
        assessmentId: 2,
        analyst: 'A',
        decision,
        reason: 'r',
      });
    }
    const { rows } = (await call(handlers, 'register.list', {})) as { rows: Record<string, unknown>[] };
    expect(rows.map((row) => [row.poleId, row.date, row.verdict])).toEqual([
      ['TV-1', '2019-06-01', 'not assessed'],
      ['TV-1', '2026-06-01', 'assessed'],
      ['TV-2', '2026-05-01', 'not assessed'],
    ]);
    expect(rows[1]).toMatchObject({
      // Means over planes of the invented modes: (2.5 + 3.05) / 2, (11.32 + 11.9) / 2, (27.9 + 28.6) / 2.
      frequenciesHz: [expect.closeTo(2.775, 9), expect.closeTo(11.61, 9), expect.closeTo(28.25, 9)],
      modulusPa: 10.42e9,
      fixity: 14.2,
      capacityNm: { value: 91.1e3, low: 62.4e3, high: 124.8e3 },
      requirementNm: 80.5e3,
      chanceBelow: 0.29,
      ruling: { decision: 'keep', assessmentId: 2 },
    });
    expect(await call(handlers, 'workspace.describe', {})).toMatchObject({
      visits: 3,
      poles: 2,
      notAssessed: 2,
    });
  });
});

describe('a visit', () => {
  it('opens with its recordings before it was assessed', async () => {
    const { handlers, visitId } = await makeWorkspace();
    expect(await call(handlers, 'visit.open', { visitId })).toMatchObject({
      recordings: [{ index: 0, file: 'TV-0001.csv', exciter: expect.any(String), azimuthsDeg: [0, 90] }],
      assessment: null,
      assessmentId: null,
      failure: null,
      decisions: [],
      rulings: [],
    });
    expect(await call(handlers, 'visit.recordings', { visitId })).toMatchObject({
      readings: [
        {
          sampleRateHz: expect.closeTo(200, 6),
          durationS: expect.closeTo(10, 6),
          warnings: expect.any(Array),
        },
      ],
    });
    expect(fakeChain.analyseVisit).not.toHaveBeenCalled();
  });

  it('tries picks without storing anything, and analyses its recordings once', async () => {
    const { handlers, visitId } = await makeWorkspace();
    const tried = await call(handlers, 'visit.tryPicks', { visitId, decisions: MOVED });
    expect(tried).toMatchObject({
      assessment: { modes: [{ frequencyHz: { value: 2.5 } }, {}, {}, {}, {}, {}] },
    });
    await call(handlers, 'visit.tryPicks', { visitId, decisions: [] });
    expect(fakeChain.analyseVisit).toHaveBeenCalledTimes(1);
    expect(await call(handlers, 'visit.open', { visitId })).toMatchObject({ assessmentId: null });
  });

  it('opens with what was stored last, without another run of the chain', async () => {
    const { store, handlers, visitId } = await makeWorkspace();
    await call(handlers, 'visit.assess', { visitId, decisions: [] });
    const stored = await call(handlers, 'visit.assess', { visitId, decisions: MOVED });
    vi.clearAllMocks();
    const opened = await call(createWorkspaceService(store), 'visit.open', { visitId });
    expect(opened).toMatchObject({ ...(stored as object), assessmentId: 2, decisions: MOVED, failure: null });
    expect(fakeChain.concludeVisit).not.toHaveBeenCalled();
  });

  it('keeps with each result all that it came from', async () => {
    const { store, handlers, visitId } = await makeWorkspace();
    await call(handlers, 'visit.assess', { visitId, decisions: MOVED });
    const [row] = (await runPast(store, 'SELECT * FROM assessments')) as [Record<string, string>];
    const [{ sha256 }] = (await runPast(store, 'SELECT sha256 FROM recordings')) as [{ sha256: string }];
    const [visit] = (await runPast(store, 'SELECT file_sha256 FROM visits')) as [{ file_sha256: string }];
    expect(JSON.parse(row.inputs_json!)).toEqual({
      visitFile: visit.file_sha256,
      recordings: [{ fileName: 'TV-0001.csv', sha256 }],
    });
    expect(JSON.parse(row.decisions_json!)).toEqual(MOVED);
    expect(JSON.parse(row.settings_json!)).toEqual({ seed: 1, calibration: 'handbook@1', root: 'bedded' });
    expect(row.program).toMatch(/^stemroot \d+\.\d+\.\d+$/);
  });

  it('gives equal inputs the same hash, and others another', async () => {
    const { store, handlers, visitId } = await makeWorkspace();
    for (const decisions of [[], [], MOVED]) await call(handlers, 'visit.assess', { visitId, decisions });
    const rows = await store.db.selectFrom('assessments').select('inputs_sha256').execute();
    const [first, again, moved] = rows.map((row) => row.inputs_sha256);
    expect(first).toBe(again);
    expect(first).not.toBe(moved);
  });

  it('that the chain cannot assess is stored as failed, with why', async () => {
    const { handlers, visitId } = await makeWorkspace(FAILING_POLE);
    const why = { code: 'fit.none', message: 'No mode was found.', hint: 'Record the pole again.' };
    expect(await callService(handlers, 'visit.assess', { visitId, decisions: [] })).toEqual({
      ok: false,
      ...why,
    });
    expect(await call(handlers, 'visit.open', { visitId })).toMatchObject({ assessment: null, failure: why });
    expect(await call(handlers, 'register.list', {})).toMatchObject({ rows: [{ verdict: 'failed' }] });
  });

  it('over which the program breaks stores nothing and tells no detail', async () => {
    const { handlers, visitId } = await makeWorkspace(BREAKING_POLE);
    const log = vi.spyOn(console, 'error').mockImplementation(() => {});
    const answer = await callService(handlers, 'visit.assess', { visitId, decisions: [] });
    expect(answer).toMatchObject({ ok: false, code: 'internal' });
    expect(JSON.stringify(answer)).not.toContain('not a pole');
    expect(log.mock.calls[0]![1]).toBeInstanceOf(TypeError);
    expect(await call(handlers, 'visit.open', { visitId })).toMatchObject({
      assessmentId: null,
      failure: null,
    });
    log.mockRestore();
  });

  it('has a report once it is assessed', async () => {
    const { handlers, visitId } = await makeWorkspace();
    const request = { subject: { visitIds: [visitId] }, format: 'html' };
    expect(await callService(handlers, 'reports.make', request)).toMatchObject({
      code: 'report.notAssessed',
    });
    await call(handlers, 'visit.assess', { visitId, decisions: [] });
    const report = (await call(handlers, 'reports.make', request)) as { fileName: string; base64: string };
    expect(report.fileName).toBe('report-TV-0001-2026-05-03.html');
    const html = Buffer.from(report.base64, 'base64').toString('utf8');
    expect(html).toContain('An estimate is not a clearance to climb.');
    expect(html).toContain('TV-0001');
  });

  it.each([
    ['visit.open', {}],
    ['visit.tryPicks', { decisions: [] }],
    ['visit.assess', { decisions: [] }],
    ['visit.rule', { assessmentId: null, analyst: 'A', decision: 'keep', reason: 'r' }],
    ['reports.make', { subject: { visitIds: [77] }, format: 'csv' }],
    ['recording.waveform', { recording: 0 }],
  ] as const)('that is not there is named by %s', async (name, rest) => {
    const { handlers } = await makeWorkspace();
    expect(await callService(handlers, name, { visitId: 77, ...rest })).toMatchObject({
      ok: false,
      code: 'visit.unknown',
      message: expect.stringContaining('77'),
    });
  });
});

describe('visits.import', () => {
  it('imports every visit among uploaded files and goes on after a bad one', async () => {
    const handlers = createWorkspaceService(await makeStore());
    const encode = (name: string, text: string) => ({ name, base64: Buffer.from(text).toString('base64') });
    const files = [
      encode('bad.visit.json', '{'),
      encode('TV-1.csv', makeCsv()),
      encode('TV-1.visit.json', JSON.stringify(makeVisitFile('TV-1'))),
    ];
    expect(await call(handlers, 'visits.import', { files })).toMatchObject({
      outcomes: [
        { file: 'bad.visit.json', status: 'failed' },
        { file: 'TV-1.visit.json', status: 'imported', visitId: 1, poleId: 'TV-1' },
      ],
    });
    expect(await callService(handlers, 'visits.import', { files: [files[1]] })).toMatchObject({
      code: 'import.visits',
    });
  });
});

describe('callService', () => {
  it.each([
    ['visit.climb', {}, 'call.unknown'],
    ['toString', {}, 'call.unknown'],
    ['__proto__', {}, 'call.unknown'],
    ['visit.open', {}, 'call.request'],
    ['visit.open', null, 'call.request'],
    ['visit.open', { visitId: '1' }, 'call.request'],
    ['visit.open', { visitId: -1 }, 'call.request'],
    [
      'visit.rule',
      { visitId: 1, assessmentId: null, analyst: ' ', decision: 'keep', reason: 'r' },
      'call.request',
    ],
    [
      'visit.rule',
      { visitId: 1, assessmentId: null, analyst: 'A', decision: 'climb', reason: 'r' },
      'call.request',
    ],
    ['visit.tryPicks', { visitId: 1, decisions: [{ plane: 0, number: 9, frequencyHz: 1 }] }, 'call.request'],
  ])('refuses %s %j as %s', async (name, request, code) => {
    const handlers = createWorkspaceService(await makeStore());
    expect(await callService(handlers, name, request)).toMatchObject({ ok: false, code });
  });

  it('refuses a ruling on a result that is no longer the latest', async () => {
    const { handlers, visitId } = await makeWorkspace();
    await call(handlers, 'visit.assess', { visitId, decisions: [] });
    await call(handlers, 'visit.assess', { visitId, decisions: [] });
    const ruling = { visitId, analyst: 'A', decision: 'keep', reason: 'r' };
    expect(await callService(handlers, 'visit.rule', { ...ruling, assessmentId: 1 })).toMatchObject({
      ok: false,
      code: 'store.conflict',
    });
    expect(await callService(handlers, 'visit.rule', { ...ruling, assessmentId: 2 })).toMatchObject({
      ok: true,
    });
  });

  it('names the workspace where its database fails', async () => {
    const { store, handlers, visitId } = await makeWorkspace();
    await runPast(store, 'ALTER TABLE rulings RENAME TO gone');
    expect(await callService(handlers, 'visit.open', { visitId })).toMatchObject({
      ok: false,
      code: 'store.failed',
      message: expect.stringContaining(store.path),
    });
    await runPast(store, 'ALTER TABLE gone RENAME TO rulings');
  });
});
