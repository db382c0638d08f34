import Papa from 'papaparse';
import { expect, it, vi } from 'vitest';
import { CAUTIONS } from '../../core/cautions.ts';
import {
  type AnswerCall,
  callService,
  createWorkspaceService,
  type Handlers,
  importVisit,
  withPrinter,
} from '../../core/workspace/index.ts';
import { makeCsv, makeSource, makeStore, makeVisitFile } from './visitFixture.ts';

vi.mock('../../core/assess.ts', async () => (await import('./fakeChain.ts')).fakeChain);

/** Two visits, the first assessed. */
async function makeReported(poleId = 'TV-1') {
  const store = await makeStore();
  for (const [seed, pole] of [poleId, 'TV-2'].entries()) {
    await importVisit(store, makeSource(makeVisitFile(pole), { [`${pole}.csv`]: makeCsv(seed) }));
  }
  const handlers = createWorkspaceService(store);
  await callService(handlers, 'visit.assess', { visitId: 1, decisions: [] });
  return handlers;
}

async function make(handlers: Handlers, request: object) {
  const answer = await callService(handlers, 'reports.make', request);
  if (!answer.ok) throw new Error(answer.code);
  const made = answer.value as { fileName: string; base64: string; visits: number; leftOut: object[] };
  return { ...made, text: Buffer.from(made.base64, 'base64').toString('utf8') };
}

it('writes the assessed visits of a selection into one printed file, and names those left out', async () => {
  const made = await make(await makeReported(), { subject: { visitIds: [1, 2] }, format: 'html' });
  expect(made).toMatchObject({
    fileName: 'report-2-visits.html',
    visits: 1,
    leftOut: [{ poleId: 'TV-2', date: '2026-05-03', reason: 'not assessed' }],
  });
  expect(made.text).toContain('TV-1');
  expect(made.text).not.toContain('TV-2');
});

it('names in the report who stored a result that rests on what was set by hand', async () => {
  const handlers = await makeReported();
  const decisions = [{ plane: 0, number: 4, frequencyHz: null }];
  await callService(handlers, 'visit.assess', { visitId: 1, decisions });
  const { text } = await make(handlers, { subject: { visitIds: [1] }, format: 'html' });
  expect(text).toMatch(/Set by hand<\/b> \(result stored by .+, \d{4}-\d\d-\d\d \d\d:\d\d UTC\)/);
});

it('writes what a query finds as CSV, a row a visit, numbers as numbers', async () => {
  const subject = { query: { sort: { key: 'pole', descending: false } } };
  const { text, visits } = await make(await makeReported(), { subject, format: 'csv' });
  const { data, errors } = Papa.parse<Record<string, string>>(text, { header: true });
  expect(errors).toEqual([]);
  expect(visits).toBe(2);
  expect(data.map((row) => [row.pole, row.verdict])).toEqual([
    ['TV-1', 'assessed'],
    ['TV-2', 'not assessed'],
  ]);
  expect(Number(data[0]!.capacity_if_sound_nm)).toBe(91.1e3);
  expect(data[0]).toMatchObject({ calibration: 'handbook@1', cautions: CAUTIONS.join(' ') });
  expect(data[0]!.program).toMatch(/^stemroot \d/);
  expect(Number(data[0]!.capacity_lower_5_percent_nm)).toBeLessThan(91.1e3);
});

it('tells in the report and on the bench that frequencies fell since an earlier visit, as the register does', async () => {
  const store = await makeStore();
  for (const [date, seed] of [
    ['2014-09-16', 1],
    ['2026-05-03', 2],
  ] as const) {
    await importVisit(store, makeSource(makeVisitFile('TV-1', { date }), { 'TV-1.csv': makeCsv(seed) }));
  }
  const handlers = createWorkspaceService(store);
  await callService(handlers, 'visit.assess', { visitId: 1, decisions: [] });
  // mode 1 of plane 0 at 2.20 Hz instead of 2.79, 21 % less; that of the other plane stays
  const pick = { plane: 0, number: 1, frequencyHz: 2.2 };
  await callService(handlers, 'visit.assess', { visitId: 2, decisions: [pick] });
  const words = 'Compared with the visit of 2014-09-16: f1 of plane 1 (0°) 21 % lower (2.79 to 2.20 Hz).';
  const bench = await handlers['visit.open']({ visitId: 2 });
  expect(bench.compared).toMatchObject([{ id: 'changed-between-visits' }]);
  expect(bench.compared[0]!.text).toContain(words);
  expect((await handlers['visit.open']({ visitId: 1 })).compared).toEqual([]);
  const { rows } = await handlers['register.list']({});
  expect(rows[1]!.need.reasons).toContainEqual({
    kind: 'changed',
    words: 'f1 of plane 1 (0°) 21 % lower than on 2014-09-16',
  });
  expect(rows[1]!.findings).toContainEqual(bench.compared[0]);
  // and nobody keeps the pole without having read it
  const keep = { visitId: 2, assessmentId: 2, analyst: 'A', decision: 'keep' as const, reason: 'dug out' };
  const against = 'differs from an earlier visit by more than measuring again explains';
  expect(await callService(handlers, 'visit.rule', keep)).toMatchObject({
    code: 'ruling.against',
    message: expect.stringContaining(`${against}: TV-1.`),
  });
  await callService(handlers, 'visit.rule', { ...keep, inSpite: true });
  const [later, earlier] = await Promise.all(
    [2, 1].map((visitId) => make(handlers, { subject: { visitIds: [visitId] }, format: 'html' })),
  );
  expect(later!.text).toContain(words);
  expect(later!.text).toContain(against);
  expect(earlier!.text).not.toContain('Compared with the visit');
});

// Source: OWASP, "CSV Injection" (owasp.org/www-community/attacks/CSV_Injection): fields that begin with one of these
// characters are run as formulas by spreadsheets; a single quote before them keeps them text.
it.each(['=HYPERLINK("x")', '+1', '-1', '@SUM(A1)', ' =1', '＝1'])(
  'leaves no text in a CSV that a spreadsheet runs: %s',
  async (poleId) => {
    const { text } = await make(await makeReported(poleId), { subject: { visitIds: [1] }, format: 'csv' });
    const { data } = Papa.parse<string[]>(text);
    expect(data[1]![0]).toBe(`'${poleId}`);
  },
);

it('does so where a line break follows, and in the reason of a ruling', async () => {
  const handlers = await makeReported();
  const ruling = { visitId: 1, assessmentId: 1, analyst: 'A', decision: 'keep' };
  await callService(handlers, 'visit.rule', { ...ruling, reason: '=1+1\nsecond line' });
  const { text } = await make(handlers, { subject: { visitIds: [1] }, format: 'csv' });
  const [row] = Papa.parse<Record<string, string>>(text, { header: true }).data;
  expect(row!.ruling_reason).toBe("'=1+1\nsecond line");
});

it('writes whole results and rulings as JSON', async () => {
  const { text } = await make(await makeReported(), { subject: { visitIds: [1, 2] }, format: 'json' });
  expect(JSON.parse(text)).toMatchObject({
    format: 'stemroot-results',
    visits: [
      { poleId: 'TV-1', result: { verdict: 'assessed' }, rulings: [] },
      { poleId: 'TV-2', result: null },
    ],
  });
});

it('prints by the door that can, and says so where none can', async () => {
  const handlers = await makeReported();
  const answer = (name: string, request: unknown) => callService(handlers, name, request);
  const request = { subject: { visitIds: [1] }, format: 'pdf' };
  expect(await answer('reports.make', request)).toMatchObject({ ok: false, code: 'report.noPrinter' });
  const printed: string[] = [];
  const printing = withPrinter(answer, async (html) => {
    printed.push(Buffer.from(html).toString('utf8'));
    return Buffer.from('%PDF-1.7');
  });
  expect(await printing('reports.make', request)).toMatchObject({
    ok: true,
    value: {
      fileName: 'report-TV-1-2026-05-03.pdf',
      mediaType: 'application/pdf',
      base64: Buffer.from('%PDF-1.7').toString('base64'),
    },
  });
  expect(printed[0]).toContain('TV-1');
  expect(await printing('reports.make', { ...request, subject: { visitIds: [2] } })).toMatchObject({
    ok: false,
    code: 'report.notAssessed',
  });
});

it.each(['pdf', 'html'])(
  'a door that prints hands on which workspace the window shows, for %s',
  async (format) => {
    const answer = vi.fn<AnswerCall>(async () => ({
      ok: true,
      value: { fileName: 'a.html', base64: '' } as never,
    }));
    await withPrinter(answer, async (html) => html)('reports.make', { format }, 'mark');
    expect(answer).toHaveBeenCalledWith('reports.make', { format: 'html' }, 'mark');
  },
);

it('refuses an empty selection', async () => {
  const handlers = await makeReported();
  const nothing = { subject: { query: { search: 'oak' } }, format: 'csv' };
  expect(await callService(handlers, 'reports.make', nothing)).toMatchObject({ code: 'report.noVisits' });
});
