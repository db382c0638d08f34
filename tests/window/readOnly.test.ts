import { copyFileSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { type Desk, openDesk, openStore, type Store } from '../../core/workspace/index.ts';
import { WINDOW_FOLDER } from '../../host/buildWindow.ts';
import { type Host, serve } from '../../host/serve.ts';
import { launch, openVisit, readText } from './openWindow.ts';

let folder: string;
let first: Store;
let desk: Desk;
let host: Host;
let browser: Browser;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'stemroot-window-'));
  const path = join(folder, 'poles.stemroot');
  copyFileSync(inject('workspace'), path);
  first = openStore(path);
  desk = await openDesk(path);
  host = await serve(desk.answer, WINDOW_FOLDER);
  browser = await launch(inject('browser'));
});
afterAll(async () => {
  await browser.close();
  await host.close();
  await desk.close();
  await first.close();
  rmSync(folder, { recursive: true, force: true });
});

test('a second window on a workspace reads, says so, and offers no import', async () => {
  const page = await (await browser.newContext({ viewport: { width: 1280, height: 800 } })).newPage();
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  await page.goto(host.address);
  const notice = page.getByRole('status').filter({ hasText: 'open in another window or command' });
  await notice.waitFor();
  expect(await readText(notice)).toContain('Close the other one and open the workspace again');
  expect(await page.getByRole('banner').getByRole('button', { name: 'Bring in visits' }).isDisabled()).toBe(
    true,
  );
  await openVisit(page, 'KV-0101');
  expect(errors).toEqual([]);
});
