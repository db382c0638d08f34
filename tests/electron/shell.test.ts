import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, describe, expect, it, onTestFinished, vi } from 'vitest';
import { WINDOW_COMMANDS } from '../../core/windowCommands.ts';
import { callService, openStore } from '../../core/workspace/index.ts';
import { declareAppScheme, serveWindowFolder } from '../../electron/appProtocol.ts';
import { answerCalls } from '../../electron/calls.ts';
import { chooseWorkspace } from '../../electron/chooseWorkspace.ts';
import { confine } from '../../electron/confine.ts';
import { setMenu } from '../../electron/menu.ts';
import { openWindow } from '../../electron/openWindow.ts';
import { packaging } from '../../electron/packaging.ts';
import { printPdf } from '../../electron/printPdf.ts';
import { makeFolder, makeWorkspace } from '../workspace/visitFixture.ts';
import { makeContents, makeEvent, standIn } from './standIn.ts';

vi.mock('electron', async () => (await import('./standIn.ts')).standIn);

beforeEach(() => {
  vi.clearAllMocks();
  standIn.BrowserWindow.all.length = 0;
});

const OWN_PAGE = { url: 'app://window/', parent: null };

describe('the channel of calls', () => {
  async function makeChannel() {
    const { handlers, visitId } = await makeWorkspace();
    answerCalls((name, request) => callService(handlers, name, request));
    expect(standIn.ipcMain.handle).toHaveBeenCalledTimes(1);
    const [channel, listener] = standIn.ipcMain.handle.mock.calls[0]!;
    expect(channel).toBe('stemroot:call');
    const call = (senderFrame: unknown, name: unknown, request: unknown) =>
      listener({ senderFrame }, name, request);
    return { call, visitId };
  }

  it('answers its own page by the contract', async () => {
    const { call, visitId } = await makeChannel();
    expect(await call(OWN_PAGE, 'visit.open', { visitId })).toMatchObject({ ok: true, value: { visitId } });
    expect(await call(OWN_PAGE, 'visit.open', { visitId: 'x' })).toMatchObject({
      ok: false,
      code: 'call.request',
    });
    expect(await call(OWN_PAGE, undefined, {})).toMatchObject({ ok: false, code: 'call.unknown' });
  });

  it('hands on which workspace the window shows', async () => {
    const answer = vi.fn();
    answerCalls(answer);
    const [, listener] = standIn.ipcMain.handle.mock.calls[0]!;
    await listener({ senderFrame: OWN_PAGE }, 'visit.open', { visitId: 1 }, 'mark');
    expect(answer).toHaveBeenCalledWith('visit.open', { visitId: 1 }, 'mark');
  });

  it.each([
    ['a frame that is gone', null],
    ['another site', { url: 'https://evil.example/', parent: null }],
    ['a file', { url: 'file:///window/index.html', parent: null }],
    ['another host of the scheme', { url: 'app://evil/', parent: null }],
    ['a host that begins alike', { url: 'app://window.evil.example/', parent: null }],
    ['a name before the host', { url: 'app://evil@other/', parent: null }],
    ['a page without an address', { url: 'about:blank', parent: null }],
    ['no address at all', { url: '', parent: null }],
    ['a frame within its own page', { url: 'app://window/', parent: OWN_PAGE }],
  ])('refuses %s', async (_who, frame) => {
    const { call } = await makeChannel();
    expect(await call(frame, 'register.list', {})).toMatchObject({ ok: false, code: 'shell.sender' });
  });
});

describe('the protocol of the window', () => {
  function makeServer() {
    const outer = makeFolder();
    const folder = join(outer, 'window');
    mkdirSync(folder);
    writeFileSync(join(folder, 'index.html'), '<p>window</p>');
    writeFileSync(join(outer, 'secret.html'), 'secret');
    serveWindowFolder(folder);
    const [scheme, listener] = standIn.protocol.handle.mock.calls[0]!;
    expect(scheme).toBe('app');
    return (url: string, method = 'GET'): Promise<Response> => listener({ url, method });
  }

  it('serves the page under the content policy', async () => {
    const reply = await makeServer()('app://window/');
    expect([reply.status, await reply.text()]).toEqual([200, '<p>window</p>']);
    expect(reply.headers.get('content-security-policy')).toMatch(/^default-src 'none'; script-src 'self';/);
    expect(reply.headers.get('x-content-type-options')).toBe('nosniff');
  });

  it.each([
    'app://window/../secret.html',
    'app://window/%2e%2e/secret.html',
    'app://window/..%2fsecret.html',
    'app://window/..%5csecret.html',
    'app://window//etc/passwd',
    'app://evil/index.html',
    'app://evil/',
    'app://window/nothing.html',
  ])('serves nothing at %s', async (url) => {
    const reply = await makeServer()(url);
    expect([reply.status, await reply.text()]).toEqual([404, '']);
  });

  it('answers GET only', async () => {
    expect((await makeServer()('app://window/', 'POST')).status).toBe(404);
  });

  it('has an origin of its own and no further rights', () => {
    declareAppScheme();
    expect(standIn.protocol.registerSchemesAsPrivileged).toHaveBeenCalledWith([
      { scheme: 'app', privileges: { standard: true, secure: true, supportFetchAPI: true } },
    ]);
  });
});

describe('the confines', () => {
  it('deny every permission', () => {
    confine();
    const own = standIn.session.defaultSession;
    const decide = vi.fn();
    for (const permission of ['media', 'geolocation', 'clipboard-read', 'openExternal']) {
      own.setPermissionRequestHandler.mock.calls[0]![0](null, permission, decide);
      expect(own.setPermissionCheckHandler.mock.calls[0]![0](null, permission)).toBe(false);
    }
    expect(decide.mock.calls).toEqual([[false], [false], [false], [false]]);
    expect(own.setDevicePermissionHandler.mock.calls[0]![0]({})).toBe(false);
  });

  it.each(['will-navigate', 'will-frame-navigate', 'will-redirect', 'will-attach-webview'])(
    'stop %s',
    (name) => {
      confine();
      const contents = makeContents();
      standIn.app.emit('web-contents-created', {}, contents);
      const event = makeEvent();
      contents.emit(name, event);
      expect(event.preventDefault).toHaveBeenCalled();
    },
  );

  it('refuse new windows', () => {
    confine();
    const contents = makeContents();
    standIn.app.emit('web-contents-created', {}, contents);
    expect(contents.setWindowOpenHandler.mock.calls[0]![0]({ url: 'app://window/' })).toEqual({
      action: 'deny',
    });
  });

  it('let no page ask for anything from elsewhere, those that are printed included', () => {
    confine();
    const own = standIn.session.fromPartition();
    standIn.app.emit('session-created', own);
    for (const { webRequest, setPermissionCheckHandler } of [standIn.session.defaultSession, own]) {
      const isStopped = (url: string) => {
        const decide = vi.fn();
        webRequest.onBeforeRequest.mock.calls[0]![0]({ url }, decide);
        return decide.mock.calls[0]![0].cancel;
      };
      for (const url of [
        'https://evil.example/',
        'http://127.0.0.1/',
        'ws://evil.example/',
        'file:///etc/passwd',
      ])
        expect([url, isStopped(url)]).toEqual([url, true]);
      for (const url of ['app://window/index.js', 'data:image/png;base64,AA==', 'blob:app://window/1b2c'])
        expect([url, isStopped(url)]).toEqual([url, false]);
      expect(setPermissionCheckHandler).toHaveBeenCalled();
    }
  });

  it('let only what the window made itself be saved', () => {
    confine();
    const download = (url: string) => {
      const event = makeEvent();
      standIn.session.defaultSession.emit('will-download', event, { getURL: () => url });
      return event.preventDefault.mock.calls.length === 0;
    };
    expect(download('blob:app://window/1b2c')).toBe(true);
    expect(download('https://evil.example/a.exe')).toBe(false);
    expect(download('blob:https://evil.example/1b2c')).toBe(false);
  });
});

describe('printing', () => {
  // Chromium refuses addresses of more than 2 MiB (url/url_constants.h, kMaxURLChars), so the page is no part of it
  it('hands a long page over without script, network or disk, and is gone afterwards', async () => {
    const html = Buffer.from(`<p>${'x'.repeat(3 * 1024 ** 2)}</p>`);
    const own = standIn.session.fromPartition();
    const ask = (url: string): Response => own.protocol.handle.mock.calls[0]![1]({ url });
    const printing = printPdf(html);
    const [window] = standIn.BrowserWindow.all;
    const [address] = window!.loadURL.mock.calls[0] as unknown as [string];
    const served = ask(address);
    expect(Buffer.from(await printing).toString()).toBe('%PDF');
    expect(address).toMatch(/^app:\/\/print\/[0-9a-f-]{36}$/);
    expect((await served.text()).length).toBe(html.length);
    expect(served.headers.get('content-security-policy')).toMatch(/^default-src 'none'/);
    expect(window!.options).toMatchObject({
      show: false,
      webPreferences: { javascript: false, sandbox: true, contextIsolation: true, partition: 'print' },
    });
    expect(window!.destroy).toHaveBeenCalled();
    for (const url of [address, 'app://print/', 'app://window/']) expect(ask(url).status).toBe(404);
  });
});

describe('a package', () => {
  it('has every fuse set against being talked into something else', () => {
    expect(packaging.electronFuses).toEqual({
      runAsNode: false,
      enableCookieEncryption: true,
      enableNodeOptionsEnvironmentVariable: false,
      enableNodeCliInspectArguments: false,
      enableEmbeddedAsarIntegrityValidation: true,
      onlyLoadAppFromAsar: true,
      grantFileProtocolExtraPrivileges: false,
    });
    expect([packaging.asar, packaging.publish]).toEqual([true, null]);
  });
});

describe('the window', () => {
  it('is isolated, sandboxed and without Node', async () => {
    await openWindow('/built/preload.cjs');
    const [window] = standIn.BrowserWindow.all;
    expect(window!.options.webPreferences).toMatchObject({
      preload: '/built/preload.cjs',
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      webviewTag: false,
      allowRunningInsecureContent: false,
    });
    for (const risky of ['experimentalFeatures', 'enableBlinkFeatures', 'disableBlinkFeatures']) {
      expect(window!.options.webPreferences).not.toHaveProperty(risky);
    }
    expect(window!.loadURL).toHaveBeenCalledWith('app://window/');
  });
});

describe('the bridge', () => {
  it('has two functions and hands no object of Electron on', async () => {
    await import('../../electron/preload.ts');
    const [name, bridge] = standIn.contextBridge.exposeInMainWorld.mock.calls[0]!;
    expect([name, Object.keys(bridge)]).toEqual(['stemroot', ['call', 'onCommand']]);
    bridge.call('visit.open', { visitId: 1 }, 'mark');
    const sent = ['stemroot:call', 'visit.open', { visitId: 1 }, 'mark'];
    expect(standIn.ipcRenderer.invoke).toHaveBeenCalledWith(...sent);
    const heard = vi.fn();
    const stop = bridge.onCommand(heard);
    standIn.ipcRenderer.emit('stemroot:command', { sender: 'of Electron' }, 'register');
    expect(heard.mock.calls).toEqual([['register']]);
    stop();
    expect(standIn.ipcRenderer.removeListener).toHaveBeenCalledWith('stemroot:command', expect.any(Function));
  });
});

describe('the menu', () => {
  it('has every command of the window, told to the page that is in front', () => {
    setMenu();
    const template = standIn.Menu.buildFromTemplate.mock.calls.at(-1)![0] as {
      label?: string;
      submenu?: { label: string; accelerator: string; click: () => void }[];
    }[];
    const { submenu } = template.find(({ label }) => label === 'Commands')!;
    expect(submenu!.map(({ label, accelerator }) => [label, accelerator])).toEqual(
      WINDOW_COMMANDS.map(({ title, keys }) => [title, keys]),
    );
    submenu![2]!.click();
    expect(standIn.BrowserWindow.focused.webContents.send).toHaveBeenCalledWith(
      'stemroot:command',
      'register',
    );
  });
});

describe('the choice of a workspace', () => {
  it('takes the one named at the start, and never makes it', async () => {
    expect(await chooseWorkspace(['electron', '/project', '/a.stemroot'])).toEqual({
      path: '/a.stemroot',
      create: false,
    });
    standIn.app.isPackaged = true;
    expect(await chooseWorkspace(['stemroot', '/b.stemroot'])).toEqual({
      path: '/b.stemroot',
      create: false,
    });
    standIn.app.isPackaged = false;
    expect(standIn.dialog.showMessageBox).not.toHaveBeenCalled();
  });

  it.each([
    ['opens', 0, { path: '/chosen', create: false }],
    ['makes', 1, { path: '/chosen', create: true }],
    ['leaves', 2, null],
  ])('asks otherwise: the user %s', async (_what, response, expected) => {
    standIn.dialog.showMessageBox.mockResolvedValue({ response });
    standIn.dialog.showOpenDialog.mockResolvedValue({ filePaths: ['/chosen'] });
    standIn.dialog.showSaveDialog.mockResolvedValue({ filePath: '/chosen' });
    expect(await chooseWorkspace(['electron', '/project'])).toEqual(expected);
  });

  it('leaves where a dialog is closed', async () => {
    standIn.dialog.showOpenDialog.mockResolvedValue({ filePaths: [] });
    standIn.dialog.showSaveDialog.mockResolvedValue({ filePath: '' });
    for (const response of [0, 1]) {
      standIn.dialog.showMessageBox.mockResolvedValue({ response });
      expect(await chooseWorkspace(['electron', '/project'])).toBeNull();
    }
  });
});

describe('main', () => {
  beforeEach(() => {
    // log and settings go to folders that are gone after the test
    vi.stubEnv('XDG_STATE_HOME', makeFolder());
    vi.stubEnv('XDG_CONFIG_HOME', makeFolder());
    vi.stubEnv('HOME', makeFolder());
    onTestFinished(() => void vi.unstubAllEnvs());
  });

  it('opens the window on the named workspace, after its confines', async () => {
    const path = join(makeFolder(), 'a.stemroot');
    await openStore(path, { create: true }).close();
    vi.resetModules();
    vi.spyOn(process, 'argv', 'get').mockReturnValue(['electron', '/project', path]);
    await import('../../electron/main.ts');
    await vi.waitFor(() => expect(standIn.BrowserWindow.all[0]?.loadURL).toHaveBeenCalled());
    expect(standIn.app.enableSandbox).toHaveBeenCalled();
    expect(standIn.protocol.registerSchemesAsPrivileged).toHaveBeenCalled();
    expect(standIn.session.defaultSession.setPermissionRequestHandler).toHaveBeenCalled();
    expect(standIn.ipcMain.handle).toHaveBeenCalled();
    const event = makeEvent();
    standIn.app.emit('before-quit', event);
    expect(event.preventDefault).toHaveBeenCalled();
    // only then is the workspace free for the next program
    await vi.waitFor(() => expect(standIn.app.quit).toHaveBeenCalled());
    await openStore(path).close();
  });

  it('says why it cannot start and ends', async () => {
    vi.resetModules();
    vi.spyOn(process, 'argv', 'get').mockReturnValue([
      'electron',
      '/project',
      join(makeFolder(), 'none.stemroot'),
    ]);
    await import('../../electron/main.ts');
    await vi.waitFor(() => expect(standIn.app.exit).toHaveBeenCalledWith(1));
    expect(standIn.dialog.showErrorBox.mock.calls[0]![0]).toMatch(
      /There is no workspace at .*none\.stemroot/,
    );
    expect(standIn.BrowserWindow.all).toHaveLength(0);
  });
});
