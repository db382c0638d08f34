import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { afterAll, inject, test } from 'vitest';
import { launch } from './openWindow.ts';

/* The window as `npm start` serves it in a browser, on a workspace that is made on the way. */

const START = fileURLToPath(new URL('../../host/start.ts', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'stemroot-start-'));
const running: ChildProcess[] = [];
afterAll(async () => {
  for (const child of running) {
    child.kill('SIGTERM');
    if (child.exitCode === null) await once(child, 'exit');
  }
  rmSync(folder, { recursive: true, force: true });
});

/** Starts the program on a workspace. @returns the address that it says */
async function start(workspace: string): Promise<string> {
  const env = { ...process.env, XDG_CONFIG_HOME: folder, XDG_STATE_HOME: folder };
  const child = spawn(process.execPath, [START, workspace, '--make', '--no-open'], { env });
  running.push(child);
  for await (const line of createInterface({ input: child.stdout })) {
    const address = /^The window is at (\S+)$/.exec(line)?.[1];
    if (address) return address;
  }
  throw new Error('The program ended without an address.');
}

test('--make begins with an empty workspace, in which a visit can be written down; the menu says how another is made', async () => {
  const address = await start(join(folder, 'mine.stemroot'));
  const browser = await launch(inject('browser'));
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
    await page.goto(address);
    await page.getByRole('heading', { name: 'No visits in this workspace yet' }).waitFor();
    await page.getByRole('button', { name: /^mine: 0 poles/ }).click();
    await page.getByText('npm start -- NAME.stemroot --make').waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('main').getByRole('button', { name: 'Write a visit down' }).click();
    await page.getByRole('button', { name: 'Begin', exact: true }).click();
    await page.getByRole('textbox', { name: 'Number (needed)' }).waitFor();
  } finally {
    await browser.close();
  }
});
