import type { Page } from 'playwright';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { type OpenedWindow, openVisit, openWindow } from './openWindow.ts';

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
