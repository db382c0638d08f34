import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import type { CallName, CallRequest, CallResponse } from '../../core/workspace/index.ts';
import { openWorkbench, type Workbench } from '../../host/shelf/openWorkbench.ts';
import { settingsFolder } from '../../host/shelf/settingsFolder.ts';

function makeFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-shelf-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

async function open(
  folder: string,
  name: string,
  options: Parameters<typeof openWorkbench>[1] = {},
): Promise<Workbench> {
  const workbench = await openWorkbench(join(folder, `${name}.stemroot`), {
    create: true,
    folder: join(folder, 'settings'),
    ...options,
  });
  onTestFinished(() => workbench.close());
  return workbench;
}

/** What a window that is loaded now would show of itself. */
async function readOpening(workbench: Workbench): Promise<string> {
  const answer = await workbench.answer('shelf.list', {});
  if (!answer.ok) throw new Error(answer.message);
  return (answer.value as CallResponse<'shelf.list'>).opening;
}

async function call<N extends CallName>(
  workbench: Workbench,
  name: N,
  request: CallRequest<N>,
): Promise<CallResponse<N>> {
  const answer = await workbench.answer(name, request, await readOpening(workbench));
  if (!answer.ok) throw new Error(`${answer.code}: ${answer.message}`);
  return answer.value as CallResponse<N>;
}

describe('the shelf', () => {
  test('keeps workspaces, the latest first, over starts of the program', async () => {
    const folder = makeFolder();
    for (const name of ['north', 'south', 'north']) await (await open(folder, name)).close();
    const workbench = await open(folder, 'east');
    const { workspaces, canChoose } = await call(workbench, 'shelf.list', {});
    expect(workspaces.map(({ name, isOpen, isThere }) => [name, isOpen, isThere])).toEqual([
      ['east', true, true],
      ['north', false, true],
      ['south', false, true],
    ]);
    expect(canChoose).toBe(false);
    expect(workspaces[0]!.folder).toBe(folder);
    if (process.platform !== 'win32') {
      // for this user alone
      expect(statSync(join(folder, 'settings', 'settings.json')).mode & 0o077).toBe(0);
    }
    expect(readdirSync(join(folder, 'settings'))).toEqual(['settings.json']);
  });

  test('another workspace takes the place of the open one, and back, under one door', async () => {
    const folder = makeFolder();
    await (await open(folder, 'north')).close();
    const workbench = await open(folder, 'south');
    const north = (await call(workbench, 'shelf.list', {})).workspaces[1]!;
    const asked = call(workbench, 'workspace.describe', {});
    expect(await call(workbench, 'shelf.open', { id: north.id })).toEqual({ name: 'north' });
    // what was asked before is still answered by the one that was asked
    expect((await asked).name).toBe('south');
    expect((await call(workbench, 'workspace.describe', {})).name).toBe('north');
    const south = (await call(workbench, 'shelf.list', {})).workspaces[1]!;
    expect(await call(workbench, 'shelf.open', { id: south.id })).toEqual({ name: 'south' });
    await call(workbench, 'choices.keep', { name: 'x', choices: 1 });
  });

  test('a call from a window that shows the former workspace is refused, also once that one is open again', async () => {
    const folder = makeFolder();
    await (await open(folder, 'north')).close();
    const workbench = await open(folder, 'south');
    const former = await readOpening(workbench);
    const { workspaces } = await call(workbench, 'shelf.list', {});
    const kept = { name: 'x', choices: 'of south' };
    const refused = {
      ok: false,
      code: 'shelf.changed',
      message: 'Another workspace is open now than the one that this window shows; nothing was stored.',
    };
    for (const name of ['north', 'south']) {
      const { id } = workspaces.find((other) => other.name === name)!;
      await call(workbench, 'shelf.open', { id });
      expect(await workbench.answer('choices.keep', kept, former)).toMatchObject(refused);
      expect(await workbench.answer('choices.keep', kept)).toMatchObject(refused);
      expect((await call(workbench, 'choices.recall', { names: ['x'] })).choices).toEqual({});
    }
    expect(await workbench.answer('choices.keep', kept, await readOpening(workbench))).toMatchObject({
      ok: true,
    });
  });

  test('two changes at once are made one after the other, and leave one workspace open', async () => {
    const folder = makeFolder();
    for (const name of ['north', 'east']) await (await open(folder, name)).close();
    const workbench = await open(folder, 'south');
    const { workspaces } = await call(workbench, 'shelf.list', {});
    const idOf = (name: string) => workspaces.find((other) => other.name === name)!.id;
    const changes = ['north', 'east'].map((name) => call(workbench, 'shelf.open', { id: idOf(name) }));
    expect(await Promise.all(changes)).toEqual([{ name: 'north' }, { name: 'east' }]);
    await workbench.close();
    // one that was left open would be locked
    for (const name of ['north', 'east', 'south']) {
      const { notices } = await call(await open(folder, name), 'workspace.describe', {});
      expect(notices).toEqual([]);
    }
  });

  test('one that is gone is told, and can be taken off; the open one stays open', async () => {
    const folder = makeFolder();
    await (await open(folder, 'north')).close();
    const workbench = await open(folder, 'south');
    rmSync(join(folder, 'north.stemroot'));
    const north = (await call(workbench, 'shelf.list', {})).workspaces[1]!;
    expect(north.isThere).toBe(false);
    await expect(call(workbench, 'shelf.open', { id: north.id })).rejects.toThrow('store.missing');
    expect((await call(workbench, 'workspace.describe', {})).name).toBe('south');
    await call(workbench, 'shelf.forget', { id: north.id });
    expect((await call(workbench, 'shelf.list', {})).workspaces.length).toBe(1);
  });

  test('takes no path of the window: an identity that is not on it, or none, is refused', async () => {
    const workbench = await open(makeFolder(), 'north');
    await expect(call(workbench, 'shelf.open', { id: '0123456789abcdef' })).rejects.toThrow('shelf.unknown');
    await expect(call(workbench, 'shelf.open', { id: '/etc/passwd' })).rejects.toThrow('call.request');
  });

  test("a workspace chosen in the shell's dialog is opened or made; one that is left changes nothing", async () => {
    const folder = makeFolder();
    const answers = [null, { path: join(folder, 'new.stemroot'), create: true }];
    const workbench = await open(folder, 'north', { choose: async () => answers.shift() ?? null });
    expect((await call(workbench, 'shelf.list', {})).canChoose).toBe(true);
    expect(await call(workbench, 'shelf.choose', { make: true })).toEqual({ name: null });
    expect(await call(workbench, 'shelf.choose', { make: true })).toEqual({ name: 'new' });
    expect(existsSync(join(folder, 'new.stemroot'))).toBe(true);
  });

  test('preferences stay over starts; what is left out stays as it was', async () => {
    const folder = makeFolder();
    const first = await open(folder, 'north');
    await call(first, 'shelf.prefer', { units: 'us' });
    await call(first, 'shelf.prefer', { hintsDone: ['register'] });
    await first.close();
    const { preferences } = await call(await open(folder, 'north'), 'shelf.list', {});
    expect(preferences).toEqual({ units: 'us', hints: true, hintsDone: ['register'] });
  });

  test('settings that cannot be read, or written, keep nobody from working', async () => {
    const folder = makeFolder();
    const settings = join(folder, 'settings');
    await (await open(folder, 'north')).close();
    writeFileSync(join(settings, 'settings.json'), '{ "version": 1, "workspaces": [');
    const workbench = await open(folder, 'south');
    expect((await call(workbench, 'shelf.list', {})).workspaces.map(({ name }) => name)).toEqual(['south']);
    expect(JSON.parse(readFileSync(join(settings, 'settings.json'), 'utf8')).version).toBe(1);
    const blocked = join(folder, 'file');
    writeFileSync(blocked, '');
    const unkept = await open(folder, 'east', { folder: join(blocked, 'settings') });
    expect((await call(unkept, 'shelf.list', {})).workspaces).toEqual([]);
  });
});

test('settings lie where the system keeps them', () => {
  if (process.platform !== 'linux') return;
  const before = process.env.XDG_CONFIG_HOME;
  onTestFinished(() => {
    if (before === undefined) delete process.env.XDG_CONFIG_HOME;
    else process.env.XDG_CONFIG_HOME = before;
  });
  // XDG Base Directory Specification 0.8
  process.env.XDG_CONFIG_HOME = '/somewhere';
  expect(settingsFolder()).toBe('/somewhere/stemroot');
});
