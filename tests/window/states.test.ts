import { mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { type OpenedWindow, openWindow, readText } from './openWindow.ts';

let opened: OpenedWindow;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'stemroot-files-'));
  opened = await openWindow(inject('browser'), null);
});
afterAll(async () => {
  await opened.close();
  rmSync(folder, { recursive: true, force: true });
});

test('an empty workspace says what to bring, and shows what was brought', async () => {
  const page = await opened.open();
  await page.getByRole('heading', { name: 'No visits in this workspace yet' }).waitFor();
  await page.getByRole('main').getByRole('button', { name: 'Bring in visits' }).click();
  const samples = inject('samples');
  const files = readdirSync(samples).filter((name) => name.startsWith('KV-0101'));
  const broken = join(folder, 'broken.visit.json');
  writeFileSync(broken, '{ "format": "stemroot-visit", ');
  const stray = join(folder, 'stray.wav');
  writeFileSync(stray, 'no recording');
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Choose files' }).click();
  await (await choosing).setFiles([...files.map((name) => join(samples, name)), broken, stray]);
  await page.getByText('1 brought in, 0 already there, 1 failed.').waitFor();
  const outcomes = await readText(page.getByRole('dialog'));
  expect(outcomes).toContain('broken.visit.json is not JSON');
  expect(outcomes).toContain('No visit file names this recording: stray.wav.');
  await page.keyboard.press('Escape');
  await page
    .getByRole('row', { name: /KV-0101/ })
    .getByText('not assessed')
    .first()
    .waitFor();
  expect(opened.complaints.splice(0)).toEqual([]);
});

test('a visit that does not exist is an error in words, with what to do', async () => {
  const page = await opened.open();
  await page.goto(`${new URL(page.url()).origin}/#visit=999`);
  await page.reload();
  const alert = page.getByRole('alert');
  await alert.waitFor();
  expect(await readText(alert)).toMatch(/999/);
  expect(opened.complaints.splice(0)).toEqual([]);
});

test('a program that is gone is said in words, and nothing typed is lost from sight', async () => {
  const page = await opened.open();
  await page.getByRole('heading', { level: 1 }).waitFor();
  await page.route('**/call/**', (route) => route.abort());
  await page.getByRole('button', { name: 'KV-0101' }).click();
  const alert = page.getByRole('alert').first();
  await alert.waitFor();
  expect(await readText(alert)).toContain('did not answer visit.open');
  expect(await readText(alert)).toContain('Start Stemroot again');
});

test('a page without the secret of this run is refused, and told how to open the window', async () => {
  const page = await opened.open({});
  await page.goto('about:blank');
  const stranger = await page.context().browser()!.newContext();
  const other = await stranger.newPage();
  await other.goto(new URL('/', opened.host.address).href);
  const alert = other.getByRole('alert').first();
  await alert.waitFor();
  expect(await readText(alert)).toContain('Open the window from the address that the program printed');
});
