import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it } from 'vitest';
import { importVisit, openStore } from '../../core/workspace/index.ts';
import { LINE_LOADS } from '../../samples/lineLoads.ts';
import { makeCsv, makeFolder, makeSource, makeVisitFile } from '../workspace/visitFixture.ts';
import { runCommand } from './runCommand.ts';

const run = (...args: string[]) => runCommand('requirement', ...args);

let folder: string;
let workspace: string;

beforeEach(async () => {
  folder = makeFolder();
  workspace = join(folder, 'test.stemroot');
  const store = openStore(workspace, { create: true });
  const file = makeVisitFile('MC-1');
  // as long as the line's loads ask
  const tall = { ...file, pole: { ...file.pole, lengthM: 13.72 } };
  const source = makeSource(tall, { 'MC-1.csv': makeCsv() }, 'MC-1.visit.json');
  await importVisit(store, source);
  await store.close();
});

function writeProfile(profile: object): string {
  const path = join(folder, 'profile.json');
  writeFileSync(path, JSON.stringify(profile));
  return path;
}

describe('requirement', () => {
  it('prints settings to start from, each with its source', async () => {
    const { code, out } = await run('settings', workspace);
    expect(code).toBe(0);
    expect(out).toContain('General Order 95, rule 43.1');
    expect(out).toContain('0.667');
  });

  it('lays a profile against a pole: a force of 1 kN at 8 m is 8 kN·m', async () => {
    const force = { name: 'pull', kind: 'tension', heightM: 8, forceN: 1000 };
    const profile = writeProfile({ name: 'Pull', source: 'Invented', forces: [force] });
    const sizes = ['--height', '10', '--girth', '0.9', '--tip-girth', '0.5'];
    const { code, out } = await run('try', workspace, profile, ...sizes);
    expect(code).toBe(0);
    expect(out).toContain('Required at ground line: 8.0 kN·m');
    expect(out).toContain('Check your local code');
  });

  it('keeps versions, and has poles take one, or their class again', async () => {
    const path = writeProfile(LINE_LOADS);
    await run('keep', workspace, path, '--author', 'E');
    const second = await run('keep', workspace, path, '--author', 'E');
    expect(second.out).toContain('version 2');
    const chosen = await run('choose', workspace, `${LINE_LOADS.name}@1`, 'MC-1', '--by', 'E');
    expect(chosen.out).toContain(`${LINE_LOADS.name}, version 1 from their next result on`);
    const listed = JSON.parse((await run('list', workspace, '--json')).out);
    expect(listed.map(({ number, poles }: { number: number; poles: number }) => [number, poles])).toEqual([
      [2, 0],
      [1, 1],
    ]);
    const back = await run('choose', workspace, 'class', 'MC-1', '--by', 'E');
    expect(back.out).toContain('the load of their class');
    expect(JSON.parse((await run('list', workspace, '--json')).out)[1].poles).toBe(0);
  });

  it.each([
    ['a profile that is not there', ['choose', 'none', 'MC-1', '--by', 'E'], 'There are: class.'],
    ['a pole that is not there', ['choose', 'class', 'XX', '--by', 'E'], 'There is no pole XX'],
  ])('refuses %s', async (_, [command, ...rest], message) => {
    const { code, error } = await run(command!, workspace, ...rest);
    expect(code).toBe(1);
    expect(error).toContain(message);
  });

  it('says what is wrong in a profile, and that a file is not there or not JSON', async () => {
    const wrong = await run('keep', workspace, writeProfile({ name: 'X' }), '--author', 'E');
    expect(wrong.code).toBe(1);
    expect(wrong.error).toContain('source');
    const gone = await run('keep', workspace, join(folder, 'gone.json'), '--author', 'E');
    expect(gone.error).toContain('gone.json cannot be read: there is no such file or folder.\n');
    const aFolder = await run('keep', workspace, folder, '--author', 'E');
    expect(aFolder.error).toContain('cannot be read: it is a folder.\n');
    writeFileSync(join(folder, 'bad.json'), '{');
    expect((await run('keep', workspace, join(folder, 'bad.json'), '--author', 'E')).error).toContain(
      'is not JSON',
    );
  });
});
