import { copyFileSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { afterAll, afterEach, beforeAll, expect, inject, onTestFinished, test } from 'vitest';
import { WINDOW_FOLDER } from '../../host/buildWindow.ts';
import { serve } from '../../host/serve.ts';
import { openWorkbench } from '../../host/shelf/openWorkbench.ts';
import { launch, type OpenedWindow, openVisit, openWindow, readText } from './openWindow.ts';

/*
 * Two windows on one workspace: each learns what the other did, what is being entered stays, and what was decided upon what is no
 * longer so is refused.
 */

const POLE = 'KV-0101';
const REASON = 'hollow sound on the north side';

let opened: OpenedWindow;
beforeAll(async () => {
  opened = await openWindow(inject('browser'), inject('workspace'));
});
afterAll(() => opened.close());
afterEach(() => expect(opened.complaints.splice(0)).toEqual([]));

async function enter(page: Page, { analyst, reason }: { analyst: string; reason: string }): Promise<void> {
  await page.getByRole('tab', { name: /^Ruling/ }).click();
  await page.getByRole('combobox', { name: 'Decision' }).selectOption('watch');
  await page.getByRole('textbox', { name: 'Analyst' }).fill(analyst);
  await page.getByRole('textbox', { name: 'Reason' }).fill(reason);
}

const save = (page: Page) => page.getByRole('button', { name: 'Save ruling' }).click();

test('a window tells what another did, and loses nothing that is being entered', async () => {
  const one = await opened.open();
  await openVisit(one, POLE);
  await enter(one, { analyst: 'A. Nalyst', reason: REASON });
  const two = await opened.openAgain();
  await openVisit(two, POLE);
  await enter(two, { analyst: 'B. Oss', reason: 'soft root' });
  await save(two);
  await one.getByText(new RegExp(`A ruling on ${POLE} was made by B\\. Oss \\d+ s ago`)).waitFor();
  await one.getByText('soft root').first().waitFor();
  expect(await one.getByRole('textbox', { name: 'Reason' }).inputValue()).toBe(REASON);
  // one’s own change is nothing to be told of
  expect(await two.getByText(/was made by B\. Oss/).count()).toBe(0);
});

test('a ruling upon what another has changed is refused with both in words, and can be made once it was looked at', async () => {
  const one = await opened.open();
  await openVisit(one, POLE);
  await enter(one, { analyst: 'A. Nalyst', reason: REASON });
  // a window that has not looked yet
  await one.route('**/call/care.changes', () => {});
  const two = await opened.openAgain();
  await openVisit(two, POLE);
  await enter(two, { analyst: 'C. Olleague', reason: 'split top' });
  await save(two);
  await two.getByText('split top').first().waitFor();
  await save(one);
  await one.getByText(/^The ruling on pole KV-0101, .*Now: “watch” \(split top\), by C\. Olleague/).waitFor();
  expect(await one.getByRole('textbox', { name: 'Reason' }).inputValue()).toBe(REASON);
  await save(one);
  await one.getByText(/was changed since you looked/).waitFor({ state: 'detached' });
  expect(await one.getByRole('textbox', { name: 'Reason' }).inputValue()).toBe('');
});

test('nothing goes from a window into the workspace that another has opened; it says so, keeps what is typed, and loads again', async () => {
  const home = join(opened.folder, 'home');
  const settings = join(home, 'settings');
  mkdirSync(home);
  const [north, south] = ['north', 'south'].map((name) => join(home, `${name}.stemroot`)) as [string, string];
  // the same visits under the same numbers: nothing but the workspace tells them apart
  for (const path of [north, south]) copyFileSync(inject('workspace'), path);
  await (await openWorkbench(north, { folder: settings })).close();
  const workbench = await openWorkbench(south, { folder: settings });
  const host = await serve(workbench.answer, WINDOW_FOLDER);
  const browser = await launch(inject('browser'));
  onTestFinished(async () => {
    await browser.close();
    await host.close();
    await workbench.close();
  });
  const context = await browser.newContext();
  const [one, two] = [await context.newPage(), await context.newPage()];
  for (const page of [one, two]) await page.goto(host.address);
  await openVisit(two, POLE);
  await enter(two, { analyst: 'A. Nalyst', reason: REASON });

  await one.getByRole('button', { name: /^south:/ }).click();
  await one.getByRole('menuitem', { name: /^north/ }).click();
  await one.getByRole('button', { name: /^north:/ }).waitFor();
  await save(two);
  const refusal = two.getByRole('alert').filter({ hasText: 'Another workspace is open now' });
  await expect.poll(() => refusal.count()).toBe(2);
  expect(await readText(refusal.first())).toContain('nothing was stored');
  expect(await two.getByRole('textbox', { name: 'Reason' }).inputValue()).toBe(REASON);

  await two.getByRole('button', { name: 'Load again' }).click();
  await two.getByRole('button', { name: /^north:/ }).waitFor();
  await openVisit(two, POLE);
  await two.getByRole('tab', { name: /^Ruling/ }).click();
  await two.getByText('No ruling').first().waitFor();
});
