import { vi } from 'vitest';

type Listener = (...args: never[]) => unknown;

/** Keeps listeners by event, as Electron's emitters do. */
function makeEmitter() {
  const listeners = new Map<string, Listener>();
  return {
    listeners,
    on: vi.fn((event: string, listener: Listener) => void listeners.set(event, listener)),
    once: vi.fn((event: string, listener: Listener) => void listeners.set(event, listener)),
    emit: (event: string, ...args: unknown[]) =>
      (listeners.get(event) as (...args: unknown[]) => unknown)(...args),
  };
}

const windows: BrowserWindow[] = [];

class BrowserWindow {
  static readonly all = windows;
  readonly options: Record<string, unknown>;
  readonly loadURL = vi.fn(async () => {});
  readonly show = vi.fn();
  readonly destroy = vi.fn();
  static readonly focused = { webContents: { send: vi.fn() } };
  static readonly getFocusedWindow = () => BrowserWindow.focused;
  readonly webContents = { printToPDF: vi.fn(async () => Buffer.from('%PDF')) };
  readonly #emitter = makeEmitter();
  readonly once = this.#emitter.once;
  readonly emit = this.#emitter.emit;

  constructor(options: Record<string, unknown>) {
    this.options = options;
    windows.push(this);
  }
}

function makeSession() {
  return {
    ...makeEmitter(),
    setPermissionRequestHandler: vi.fn(),
    setPermissionCheckHandler: vi.fn(),
    setDevicePermissionHandler: vi.fn(),
    webRequest: { onBeforeRequest: vi.fn() },
    protocol: { handle: vi.fn() },
  };
}

const printSession = makeSession();

/** Stands in for the module `electron`: what the shell asks of it is kept for the tests to look at. */
export const standIn = {
  app: {
    ...makeEmitter(),
    isPackaged: false,
    enableSandbox: vi.fn(),
    whenReady: vi.fn(async () => {}),
    quit: vi.fn(),
    exit: vi.fn(),
  },
  BrowserWindow,
  contextBridge: { exposeInMainWorld: vi.fn() },
  dialog: {
    showErrorBox: vi.fn(),
    showMessageBox: vi.fn(),
    showOpenDialog: vi.fn(),
    showSaveDialog: vi.fn(),
  },
  ipcMain: { handle: vi.fn() },
  ipcRenderer: { ...makeEmitter(), invoke: vi.fn(), removeListener: vi.fn() },
  Menu: { buildFromTemplate: vi.fn((template: unknown) => template), setApplicationMenu: vi.fn() },
  protocol: { registerSchemesAsPrivileged: vi.fn(), handle: vi.fn() },
  session: { defaultSession: makeSession(), fromPartition: vi.fn(() => printSession) },
};

/** A page's contents, whose guards a test may call. */
export function makeContents() {
  return { ...makeEmitter(), setWindowOpenHandler: vi.fn() };
}

/** An event that says whether it was stopped. */
export function makeEvent() {
  return { preventDefault: vi.fn() };
}
