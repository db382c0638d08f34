import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { type Browser, type BrowserContextOptions, chromium, type Locator, type Page } from 'playwright';
import { openDesk, withPrinter } from '../../core/workspace/index.ts';
import { WINDOW_FOLDER } from '../../host/buildWindow.ts';
import { printPdf } from '../../host/printPdf.ts';
import { type Host, serve } from '../../host/serve.ts';

const SMALL = { width: 1280, height: 800 };
const BROWSER_SWITCHES = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking'];

export type OpenedWindow = {
  host: Host;
  /** A fresh page on the register, in a context of its own, without what earlier windows kept of their choices. */
  open(options?: BrowserContextOptions): Promise<Page>;
  /** The same, with what earlier windows kept: as after a crash. */
  openAgain(options?: BrowserContextOptions): Promise<Page>;
  /** Errors and warnings of the console, and errors of the page, since the window was opened. */
  complaints: string[];
  /** A folder that is gone when the window is closed. */
  folder: string;
  /** What the workspace holds of a window's choices under a name. */
  recall(name: string): Promise<unknown>;
  close(): Promise<void>;
};

/**
 * Serves the built window over a copy of a workspace, and opens it in a browser.
 * @param workspace - copied, so that no test changes what another sees; null starts an empty one
 * @param fill - puts more into the copy before it is opened
 */
export async function openWindow(
  browserPath: string,
  workspace: string | null,
  fill?: (path: string) => Promise<void>,
): Promise<OpenedWindow> {
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-window-'));
  const path = join(folder, basename(workspace ?? 'empty.stemroot'));
  if (workspace !== null) copyFileSync(workspace, path);
  await fill?.(path);
  const desk = await openDesk(path, { create: workspace === null });
  const host = await serve(withPrinter(desk.answer, printPdf), WINDOW_FOLDER);
  const browser = await launch(browserPath);
  const complaints: string[] = [];

  const openAgain: OpenedWindow['openAgain'] = async (options = {}) => {
    const context = await browser.newContext({ viewport: SMALL, acceptDownloads: true, ...options });
    const page = await context.newPage();
    page.on('console', (message) => {
      if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(error.message));
    await page.goto(host.address);
    return page;
  };

  return {
    host,
    complaints,
    folder,
    openAgain,
    async recall(name) {
      return (await desk.ask('choices.recall', { names: [name] })).choices[name] ?? null;
    },
    async open(options) {
      // a window of an earlier test would go on keeping its choices
      for (const context of browser.contexts()) await context.close();
      await desk.store.db.transaction().execute((db) => db.deleteFrom('kept_choices').execute());
      return openAgain(options);
    },
    async close() {
      await browser.close();
      await host.close();
      await desk.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export function launch(executablePath: string): Promise<Browser> {
  return chromium.launch({ executablePath, args: BROWSER_SWITCHES });
}

/** Opens the visit of a pole from the register, and waits until stem and root are shown or withheld. */
export async function openVisit(page: Page, poleId: string): Promise<void> {
  await page.getByRole('textbox', { name: 'Search the register' }).fill(poleId);
  await page.getByRole('button', { name: poleId, exact: true }).first().click();
  await page.getByRole('heading', { name: poleId, level: 1 }).waitFor();
  await page.getByText(/assessed, |withheld, /).waitFor();
}

/** The words of an element, hidden ones for screen readers too. */
export async function readText(locator: Locator): Promise<string> {
  return (await locator.textContent()) ?? '';
}
