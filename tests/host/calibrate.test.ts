import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it, onTestFinished, vi } from 'vitest';
import { contract, createWorkspaceService, importVisit, openStore } from '../../core/workspace/index.ts';
import { makeBreakTests } from '../../samples/breakTests.ts';
import { makeCsv, makeFolder, makeSource, makeVisitFile } from '../workspace/visitFixture.ts';
import { runCommand } from './runCommand.ts';

vi.mock(
  '../../core/assess.ts',
  async () => (await import('../workspace/calibration/measuredChain.ts')).measuredChain,
);

const run = (...args: string[]) => runCommand('calibrate', ...args);

let folder: string;
let workspace: string;
let table: string;

beforeEach(async () => {
  folder = makeFolder();
  workspace = join(folder, 'test.stemroot');
  table = join(folder, 'break-tests.csv');
  writeFileSync(table, makeBreakTests());
  const store = openStore(workspace, { create: true });
  for (const poleId of ['MC-1', 'MC-5']) {
    await importVisit(
      store,
      makeSource(makeVisitFile(poleId), { [`${poleId}.csv`]: makeCsv() }, `${poleId}.visit.json`),
    );
  }
  const handlers = createWorkspaceService(store);
  for (const visitId of [1, 2]) await handlers['visit.assess']({ visitId, decisions: [] });
  await store.close();
});

const SERIES = ['--name', 'series', '--author', 'E. Engineer'];

async function publishSeries(): Promise<void> {
  await run('read', workspace, table, '--keep');
  await run('publish', workspace, ...SERIES, '--note', 'invented', '--despite', 'a try');
}

describe('calibrate', () => {
  it('goes the whole way: read, try, publish, use, recompute, differences', async () => {
    const read = await run('read', workspace, table, '--keep');
    expect(read).toMatchObject({ code: 0, error: '' });
    expect(read.out).toContain('break_load_n');
    expect(read.out).toContain('60 of 60 rows can be taken.');
    expect(read.out).toContain('Kept as set 1: 60 tests.');
    const tried = await run('try', workspace, '--from', 'modulus', '--species', 'pooled');
    expect(tried).toMatchObject({ code: 0 });
    expect(tried.out).toMatch(/Error, one left out/);
    expect(tried.out).toContain('tested over modulus of elasticity: 5.37 to 15.0 GPa');
    const published = await run(
      'publish',
      workspace,
      '--name',
      'series',
      '--author',
      'E. Engineer',
      '--note',
      'again',
      '--despite',
      'arms are not known',
    );
    expect(published.out).toContain('Published series@1.');
    const used = await run(
      'use',
      workspace,
      'series@1',
      '--by',
      'E. Engineer',
      '--reason',
      'tests of our own',
    );
    expect(used.out).toContain('New results take series@1.');
    const listed = await run('list', workspace);
    expect(listed.out).toMatch(/series@1 +in force +E\. Engineer/);
    const recomputed = await run('recompute', workspace, 'series@1', '--by', 'E. Engineer');
    expect(recomputed).toMatchObject({ code: 0, error: 'Recomputing results: 2\n' });
    expect(recomputed.out).toContain(
      '2 new results under series@1: 2 visits to 2 poles. The results before are kept.',
    );
    const differences = await run('differences', workspace, '--all');
    expect(differences.code).toBe(0);
    expect(differences.out).toMatch(/MC-1 +2026-05-03/);
    expect(differences.out).toContain('Bending strength by series@1 is');
    expect(differences.out).toContain('An estimate is not a clearance to climb.');
  });

  it('tells of doubtful links and unknown species, and takes the word of a person for both', async () => {
    writeFileSync(
      table,
      makeBreakTests()
        .replace('KB-02,', 'MC-1,')
        .replace(/^(KB-03),[^,]+/m, '$1,Oregon fir'),
    );
    const read = await run('read', workspace, table);
    expect(read.out).toMatch(
      /Line 3, test MC-1: not linked to the visit of 2026-05-03: species douglas fir in the table, .*--same-pole "MC-1"/,
    );
    expect(read.out).toContain('Species "Oregon fir" (1 test) is not known here and counts as other; say');
    const said = ['--same-pole', 'MC-1', '--species', 'Oregon fir=douglas-fir'];
    const again = await run('read', workspace, table, '--keep', ...said);
    expect(again.out).toContain('Line 3, test MC-1: linked to the visit of 2026-05-03: species');
    expect(again.out).toContain('and counts as douglas fir.');
    expect(again.out).toContain('60 of 60 rows can be taken; 1 of them linked to visits here.');
    const { tests } = JSON.parse((await run('tests', workspace, '--json')).out);
    expect(tests[1]).toMatchObject({ visitId: 1, remark: null });
    expect(tests[2]).toMatchObject({ species: 'douglas-fir' });
    const wrong = await run('read', workspace, table, '--species', 'Oregon fir=fir');
    expect(wrong).toMatchObject({ code: 2, error: expect.stringContaining('western-redcedar') });
  });

  it('says what is published and put to use, and does neither in spite of weaknesses without a reason', async () => {
    await run('read', workspace, table, '--keep');
    const refused = await run('publish', workspace, ...SERIES, '--note', 'invented');
    expect(refused.code).toBe(1);
    expect(refused.out).toContain('60 break tests of 60 poles');
    expect(refused.out).toContain('southern pine 20, douglas fir 20, western redcedar 20');
    expect(refused.out).toMatch(/Foretells +\d+ % of the scatter of strengths of poles that it did not see/);
    expect(refused.out).toMatch(/Weaknesses:\n {2}- Of 60 of the 60 tests nobody noted by how much the arm/);
    expect(refused.error).toContain('series@1 has a weakness, and no reason is given');
    await run('publish', workspace, ...SERIES, '--note', 'invented', '--despite', 'a try');
    const unused = await run('use', workspace, 'series@1', '--by', 'E. Engineer');
    expect(unused).toMatchObject({ code: 1, error: expect.stringContaining('no reason is given') });
    expect(unused.out).toContain('60 break tests of 60 poles');
    const handbook = await run('use', workspace, 'handbook@1', '--by', 'E. Engineer');
    expect(handbook).toMatchObject({
      code: 0,
      out: expect.stringContaining('No break test stands behind it'),
    });
  });

  it.each([
    ['read', ['break-tests.csv'], 'calibration.readTests'],
    ['tests', [], 'calibration.tests'],
    ['try', [], 'calibration.tryRelations'],
    ['price', [], 'calibration.price'],
    ['list', [], 'calibration.overview'],
  ] as const)('prints %s --json as one line of the form of the contract', async (command, files, call) => {
    await publishSeries();
    const { code, out } = await run(command, workspace, ...files.map((file) => join(folder, file)), '--json');
    expect(code).toBe(0);
    expect(out.trimEnd().split('\n')).toHaveLength(1);
    expect(() => contract[call].response.parse(JSON.parse(out))).not.toThrow();
  });

  it('prints the differences of a recompute as JSON', async () => {
    await publishSeries();
    const { out } = await run('recompute', workspace, 'series@1', '--by', 'E', '--json');
    const told = contract['calibration.differences'].response.parse(JSON.parse(out));
    expect(told.recomputed).toBe(2);
    const again = await run('differences', workspace, '--json', '--limit', '1', '--all');
    expect(JSON.parse(again.out)).toMatchObject({ matching: 2, rows: [{}] });
  });

  it('hands a calibration to another workspace as one file', async () => {
    await publishSeries();
    const file = join(folder, 'out.json');
    expect((await run('export', workspace, 'series@1', '--out', file)).out).toBe(`Wrote ${file}\n`);
    expect(JSON.parse(readFileSync(file, 'utf8'))).toMatchObject({
      format: 'stemroot-calibration',
      name: 'series',
    });
    const other = join(folder, 'other.stemroot');
    await openStore(other, { create: true }).close();
    expect(await run('import', other, file)).toMatchObject({
      code: 0,
      out: 'series@1 is in the workspace now.\n',
    });
    expect((await run('import', other, file)).out).toBe('series@1 was there already.\n');
    writeFileSync(file, readFileSync(file, 'utf8').replace('"modulusPa": 1', '"modulusPa": 2'));
    const changed = await run('import', other, file);
    expect(changed.code).toBe(1);
    expect(changed.error).toContain('their hash is not dataSha256');
  });

  it('reads by columns that are named by hand, and says what is lacking until then', async () => {
    writeFileSync(table, 'pole_id,girth_m,P\nXX-1,0.85,52\n');
    const lacking = await run('read', workspace, table);
    expect(lacking.code).toBe(1);
    expect(lacking.out).toContain('No column holds a breaking load');
    const named = await run('read', workspace, table, '--column', 'P=modulusOfRupturePa:MPa');
    expect(named).toMatchObject({ code: 0 });
    expect(named.out).toContain('1 of 1 rows can be taken.');
    expect(named.out).toContain('add --keep');
    const unknown = await run('read', workspace, table, '--column', 'Q=breakLoadN:kN');
    expect(unknown).toMatchObject({ code: 1 });
    expect(unknown.error).toContain('Its columns are: pole_id, girth_m, P.');
  });

  it('judges candidates from a file, and ends with 1 where one cannot be fitted', async () => {
    await publishSeries();
    const spec = {
      response: 'groundlineStress',
      form: 'log-linear',
      predictors: ['modulus'],
      species: 'none',
      treatment: 'none',
      estimator: 'ordinary',
      modulusError: 'ignored',
    };
    const file = join(folder, 'candidates.json');
    writeFileSync(
      file,
      JSON.stringify([
        { name: 'plain', spec },
        { name: 'twice', spec: { ...spec, predictors: ['modulus', 'modulus'] } },
      ]),
    );
    const { code, out } = await run('try', workspace, '--candidates', file);
    expect(code).toBe(1);
    expect(out).toMatch(/^plain +0\.\d\d/m);
    expect(out).toContain('Predictors are chosen twice');
    writeFileSync(file, '{}');
    expect(await run('try', workspace, '--candidates', file)).toMatchObject({
      code: 1,
      error: expect.stringContaining('it holds no array'),
    });
  });

  it('asks what becomes of tests that are here already, sets a table aside and takes it up again', async () => {
    await run('read', workspace, table, '--keep');
    const corrected = join(folder, 'corrected.csv');
    writeFileSync(corrected, makeBreakTests().replace(/^(KB-03.*),9025,/m, '$1,9100,'));
    const keep = (...said: string[]) => run('read', workspace, corrected, '--keep', ...said);
    const asked = await keep();
    expect(asked.code).toBe(1);
    expect(asked.out).toContain(
      'Line 4, test KB-03, is here with other values: modulus of rupture, moment at ground line.',
    );
    expect(asked.out).toContain(
      '60 of 60 tests are here already, from break-tests.csv, 59 with the same values, 1 with others. Say',
    );
    expect(asked.out).toMatch(/Nothing was kept\.\n$/);
    expect((await keep('--already', 'replace')).error).toContain('Nobody is named who says so.');
    const said = await keep('--already', 'replace', '--by', 'E. Engineer');
    expect(said).toMatchObject({ code: 0, out: expect.not.stringContaining('Say what becomes') });
    const replaced = await run('tests', workspace);
    expect(replaced.out).toMatch(
      /Set 1: .*\n {2}60 of them set aside .* by E\. Engineer: replaced by correc/,
    );
    expect((await run('try', workspace)).out).toContain('60 tests that all can use');
    const by = ['--by', 'E. Engineer', '--reason', 'a try'];
    expect((await run('take-up', workspace, '1', ...by)).error).toContain('60 of 60 tests are here already');
    const both = await run('take-up', workspace, '1', ...by, '--already', 'keep-both');
    expect(both.out).toBe('60 tests of set 1 are in use.\n');
    expect((await run('set-aside', workspace, '2', ...by)).out).toBe('60 tests of set 2 are set aside.\n');
    expect((await keep()).out).toContain(
      'Was kept before, as set 2. Where it is set aside: calibrate take-up',
    );
    expect((await run('try', workspace)).out).toContain('60 tests that all can use');
  });

  it('leaves out tests by their numbers', async () => {
    await run('read', workspace, table, '--keep');
    const { out } = await run('try', workspace, '--leave-out', '1,2');
    expect(out).toContain('58 tests that all can use');
  });

  it.each([
    [['use', 'W', 'no@1', '--by', 'E'], 1, 'There is no calibration "no@1"'],
    [['recompute', 'W', 'no@1', '--by', 'E'], 1, 'There are: handbook@1.'],
    [['export', 'W', 'handbook@1'], 1, 'built into the program'],
    [['differences', 'W'], 1, 'Nothing was recomputed'],
    [['read', 'W', 'absent.csv'], 1, 'absent.csv cannot be read'],
    [['import', 'W', 'absent.json'], 1, 'absent.json cannot be read'],
    [['try', 'W', '--candidates', 'absent.json'], 1, 'absent.json cannot be read: there is no such file'],
    [['publish', 'W', '--name', 'a', '--author', 'E', '--note', 'n'], 1, 'expected 5 or more'],
    [['publish', 'W', '--name', 'a'], 2, "'--author <name>' not specified"],
    [['publish', 'W', '--name', 'a', '--author', 'E'], 2, "'--note <text>' not specified"],
    [['try', 'W', '--species', 'some'], 2, 'Allowed choices'],
    [['set-aside', 'W', '1', '--by', 'E'], 1, 'There is no table of break tests 1'],
    [['set-aside', 'W', 'x', '--by', 'E'], 2, 'The number of a table is expected'],
    [['try', 'W', '--leave-out', 'x'], 2, 'Numbers of tests are expected'],
    [['read', 'W', 'a.csv', '--column', 'nothing'], 2, 'A header, a field and its unit are expected'],
    [['price', 'W', '--missed', '-1'], 2, 'A number above 0 is expected'],
  ])('%j ends with %i and says what is wrong', async (args, exitCode, words) => {
    const { code, error } = await run(...args.map((arg) => (arg === 'W' ? workspace : arg)));
    expect(error).toContain(words);
    expect(code).toBe(exitCode);
  });

  it('stops a recompute at an interrupt, and stores nothing', async () => {
    await publishSeries();
    const interrupt = (event: string | symbol) => {
      if (event === 'SIGINT') queueMicrotask(() => process.emit('SIGINT'));
    };
    process.on('newListener', interrupt);
    onTestFinished(() => void process.off('newListener', interrupt));
    const { code, out } = await run('recompute', workspace, 'series@1', '--by', 'E');
    expect([code, out]).toEqual([1, 'Cancelled; nothing was stored.\n']);
    expect((await run('differences', workspace)).error).toContain('Nothing was recomputed');
  });
});
