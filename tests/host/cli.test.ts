import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeEach, describe, expect, it, vi } from 'vitest';
import { failureSchema } from '../../core/assessment.ts';
import { CAUTIONS } from '../../core/cautions.ts';
import { BREAKING_POLE, FAILING_POLE, fakeChain } from '../workspace/fakeChain.ts';
import { makeCsv, makeFolder, makePlace, makeVisitFile } from '../workspace/visitFixture.ts';
import { runCommand } from './runCommand.ts';

vi.mock('../../core/assess.ts', async () => (await import('../workspace/fakeChain.ts')).fakeChain);
vi.mock('piscina', () => import('../workspace/piscinaInProcess.ts'));

const CLI = fileURLToPath(new URL('../../host/cli.ts', import.meta.url));

let folder: string;

function placeVisit(poleId: string, date = '2026-05-03'): string {
  const path = join(folder, `${poleId}-${date}.visit.json`);
  writeFileSync(path, JSON.stringify(makeVisitFile(poleId, { date })));
  writeFileSync(join(folder, `${poleId}.csv`), makeCsv());
  return path;
}

beforeEach(() => {
  folder = makeFolder();
});

describe('assess --json', () => {
  it('prints one line a visit, in order, named as it was given', async () => {
    const paths = [placeVisit('TV-2'), placeVisit('TV-1')];
    const { code, out } = await runCommand('assess', ...paths, '--json');
    expect(code).toBe(0);
    expect(out.endsWith('\n')).toBe(true);
    const lines = out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(lines.map((line) => [line.visit, line.poleId, line.verdict])).toEqual([
      [paths[0], 'TV-2', 'assessed'],
      [paths[1], 'TV-1', 'assessed'],
    ]);
    expect(lines[0].cautions).toEqual(CAUTIONS);
  });

  it('gives a failed visit its line too, goes on, and ends with 1', async () => {
    const absent = join(folder, 'absent.visit.json');
    const broken = join(folder, 'broken.visit.json');
    writeFileSync(broken, '{');
    const good = placeVisit('TV-1');
    const paths = [absent, broken, placeVisit(FAILING_POLE), placeVisit(BREAKING_POLE), good];
    const { code, out } = await runCommand('assess', '--json', ...paths);
    expect(code).toBe(1);
    const lines = out
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line));
    expect(lines.map((line) => [line.visit, line.poleId, line.error?.code])).toEqual([
      [absent, null, 'visit.missing'],
      [broken, null, 'visit.json'],
      [paths[2], FAILING_POLE, 'fit.none'],
      [paths[3], BREAKING_POLE, 'internal'],
      [good, 'TV-1', undefined],
    ]);
    for (const line of lines.slice(0, 4)) expect(failureSchema.safeParse(line).success).toBe(true);
  });
});

describe('assess', () => {
  it('prints what a practitioner reads, with the cautions', async () => {
    const { code, out } = await runCommand('assess', placeVisit('TV-1'));
    expect(code).toBe(0);
    for (const text of ['TV-1', 'E 10.4 (9.6 to 11.3) GPa at 90 %', 'handbook@1', 'chance', 'dry season']) {
      expect(out).toContain(text);
    }
    for (const caution of CAUTIONS) expect(out).toContain(caution);
  });
});

describe('wrong usage', () => {
  it.each([
    [],
    ['assess'],
    ['assess', '--json'],
    ['assess', 'a.visit.json', '--jsn'],
    ['climb'],
    ['rule', 'w', 'p', '--decision', 'climb', '--reason', 'r', '--analyst', 'A'],
    ['rule', 'w', 'p', '--decision', 'keep', '--analyst', 'A'],
    ['report', 'a.visit.json'],
  ])('ends with 2 and prints nothing on standard output: %s %s %s %s', async (...args) => {
    expect(await runCommand(...args)).toMatchObject({ code: 2, out: '' });
  });

  it('is told by the exit code of the process', () => {
    const { status, stdout, stderr } = spawnSync(process.execPath, [CLI, 'assess', '--jsn'], {
      encoding: 'utf8',
    });
    expect([status, stdout]).toEqual([2, '']);
    expect(stderr).toContain('--jsn');
  });

  it('is not asking for help', async () => {
    expect(await runCommand('--help')).toMatchObject({ code: 0, out: expect.stringContaining('assess') });
  });
});

describe('a workspace', () => {
  it('is filled, listed, shown, ruled on and reported', async () => {
    placeVisit('TV-1', '2019-05-03');
    placeVisit('TV-1');
    placeVisit(FAILING_POLE);
    const workspace = join(folder, 'w.stemroot');
    const imported = await runCommand('import', workspace, folder, '--assess');
    expect(imported.code).toBe(1);
    expect(imported.out.match(/: imported/g)).toHaveLength(3);
    expect(await runCommand('import', workspace, folder)).toMatchObject({
      code: 0,
      out: expect.stringContaining('already'),
    });

    expect(
      await runCommand(
        'rule',
        workspace,
        'TV-1',
        '--decision',
        'watch',
        '--reason',
        'soft',
        '--analyst',
        'A',
      ),
    ).toEqual({
      code: 0,
      out: 'TV-1, visit of 2026-05-03: ruled watch.\n',
      error: '',
    });
    const keep = ['--decision', 'keep', '--reason', 'dug out', '--analyst', 'A', '--in-spite'];
    expect((await runCommand('rule', workspace, 'TV-1', '--date', '2019-05-03', ...keep)).out).toBe(
      'TV-1, visit of 2019-05-03: ruled keep. The ground line was not inspected, and no result speaks of decay there.\n',
    );
    const { out: table } = await runCommand('list', workspace);
    const [title, , old, latest, failed] = table.split('\n');
    expect(title).toMatch(
      /^Pole +Date +Verdict +f1 Hz +f2 Hz +f3 Hz +E GPa +Fixity .*Capacity if sound, kN·m/,
    );
    expect(failed).toMatch(/^TV-FAILS +2026-05-03 +failed .*No mode was found\./);
    expect(old).toMatch(/^TV-1 +2019-05-03 +assessed +2\.92 +11\.61 +28\.25 +10\.4 /);
    expect(latest).toMatch(/2026-05-03.* watch /);
    for (const caution of CAUTIONS) expect(table).toContain(caution);

    const { out: shown } = await runCommand('show', workspace, 'TV-1');
    expect(shown).toMatch(
      /2019-05-03\.visit\.json: assessed[\s\S]*2026-05-03\.visit\.json: assessed[\s\S]*watch\. soft/,
    );

    const dated = join(folder, 'dated.html');
    expect(
      await runCommand('report', workspace, 'TV-1', '--date', '2019-05-03', '--out', dated),
    ).toMatchObject({
      code: 0,
    });
    expect(readFileSync(dated, 'utf8')).toContain('TV-1, 2019-05-03');
    const undated = await runCommand('report', workspace, 'TV-1', '--date', '2020-01-01', '--out', dated);
    expect(undated).toMatchObject({ code: 1, error: expect.stringContaining('its dates are 2019-05-03') });

    const report = join(folder, 'r.html');
    expect(await runCommand('report', workspace, 'TV-1', '--out', report)).toMatchObject({ code: 0 });
    expect(readFileSync(report, 'utf8')).toContain('TV-1, 2026-05-03');
  });

  it('assesses at a later import what has no result yet, and nothing twice', async () => {
    placeVisit('TV-1');
    const workspace = join(folder, 'w.stemroot');
    await runCommand('import', workspace, folder);
    fakeChain.concludeVisit.mockClear();
    for (const _ of [1, 2])
      expect(await runCommand('import', workspace, folder, '--assess')).toMatchObject({ code: 0 });
    expect(fakeChain.concludeVisit).toHaveBeenCalledTimes(1);
  });

  it('that is not there, or holds no such pole, is named on standard error', async () => {
    const workspace = join(folder, 'w.stemroot');
    expect(await runCommand('list', workspace)).toMatchObject({
      code: 1,
      out: '',
      error: expect.stringContaining(workspace),
    });
    expect(existsSync(workspace)).toBe(false);
    await runCommand('import', workspace, placeVisit('TV-1'));
    expect(await runCommand('show', workspace, 'TV-7')).toMatchObject({
      code: 1,
      error: expect.stringContaining('TV-7'),
    });
  });

  it('says of a ruling without a reason which field is wrong and what is expected there', async () => {
    const workspace = join(folder, 'w.stemroot');
    await runCommand('import', workspace, placeVisit('TV-1'));
    const rule = ['--decision', 'watch', '--reason', '  ', '--analyst', 'A'];
    expect(await runCommand('rule', workspace, 'TV-1', ...rule)).toEqual({
      code: 1,
      out: '',
      error:
        'Field reason: a text that is not empty is expected; received "  ".\nCorrect that field and try again.\n',
    });
  });

  it('that holds no visits is said to hold none, by list and by export', async () => {
    const path = await makePlace();
    expect((await runCommand('list', path)).out).toContain('There are no visits in this workspace yet');
    const out = join(makeFolder(), 'none.csv');
    expect(await runCommand('export', path, '--out', out)).toEqual({
      code: 0,
      out: `The workspace holds no visits; ${out} has none in it\n`,
      error: '',
    });
  });

  it('is not made for a folder without visits', async () => {
    const empty = join(folder, 'empty');
    mkdirSync(empty);
    const workspace = join(folder, 'w.stemroot');
    expect(await runCommand('import', workspace, empty)).toMatchObject({
      code: 1,
      error: expect.stringContaining(empty),
    });
    expect(existsSync(workspace)).toBe(false);
  });
});

describe('report', () => {
  it('prints a visit file that was assessed just now', async () => {
    const report = join(folder, 'r.html');
    expect(await runCommand('report', placeVisit('TV-1'), '--out', report)).toMatchObject({ code: 0 });
    expect(readFileSync(report, 'utf8')).toContain('TV-1, 2026-05-03');
  });

  it.each([
    ['a visit file with a pole', ['x.visit.json', 'TV-1']],
    ['a workspace without a pole', ['w.stemroot']],
    ['a visit file that is not there', ['x.visit.json']],
  ])('refuses %s', async (_what, args) => {
    const report = join(folder, 'r.html');
    expect(await runCommand('report', ...args, '--out', report)).toMatchObject({ code: 1, out: '' });
    expect(existsSync(report)).toBe(false);
  });

  it('is written as HTML, and not under a name that promises something else', async () => {
    const report = join(folder, 'r.pdf');
    const { code, error } = await runCommand('report', placeVisit('TV-1'), '--out', report);
    expect([code, error.includes('a report is written as HTML')]).toEqual([1, true]);
    expect(existsSync(report)).toBe(false);
  });

  it('names a place where it cannot be written', async () => {
    const report = join(folder, 'none', 'r.html');
    const { code, error } = await runCommand('report', placeVisit('TV-1'), '--out', report);
    expect([code, error.includes(report)]).toEqual([1, true]);
  });
});
