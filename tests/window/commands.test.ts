import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { WINDOW_COMMANDS } from '../../core/windowCommands.ts';
import { type OpenedWindow, openWindow } from './openWindow.ts';

let opened: OpenedWindow;
beforeAll(async () => {
  opened = await openWindow(inject('browser'), inject('workspace'));
});
afterAll(() => opened.close());
afterEach(() => expect(opened.complaints.splice(0)).toEqual([]));

/** By every rule of axe-core. */
async function findViolations(page: Page): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page }).include('[role="dialog"]').analyze();
  return violations.map((v) => `${v.id}: ${v.nodes.map((node) => node.html).join(' | ')}`);
}

/** A page that answers to keys. */
async function openMounted(): Promise<Page> {
  const page = await opened.open();
  await page.getByRole('row').nth(1).waitFor();
  return page;
}

/** The field has the keyboard when the finder is there. */
async function openFinder(page: Page): Promise<void> {
  await page.keyboard.press('Control+k');
  const field = page.getByRole('combobox', { name: 'Words of the command' });
  await expect.poll(() => field.evaluate((own) => own === document.activeElement)).toBe(true);
}

test('a command is found by its words and done, by keyboard alone', async () => {
  const page = await openMounted();
  await openFinder(page);
  const options = page.getByRole('dialog', { name: 'Find a command' }).getByRole('option');
  await options.first().waitFor();
  expect(await options.count()).toBe(WINDOW_COMMANDS.length - 1);
  expect(await findViolations(page)).toEqual([]);
  await page.keyboard.type('class');
  await page.getByRole('option', { name: /^Go to the classroom/, selected: true }).waitFor();
  await page.keyboard.press('Enter');
  await page.waitForURL(/#classroom$/);
  await page.getByRole('dialog').waitFor({ state: 'hidden' });
});

test.each([
  ['pdf', 'Go to the register'],
  ['undo', 'Show the keys'],
  ['dark theme', 'Change between light and dark colours'],
  ['import', 'Bring in visits'],
])('other words for a command find it too, and are not shown: %s', async (words, title) => {
  const page = await openMounted();
  await openFinder(page);
  await page.keyboard.type(words);
  const options = page.getByRole('dialog').getByRole('option');
  await expect.poll(() => options.count()).toBe(1);
  const { keys } = WINDOW_COMMANDS.find((command) => command.title === title)!;
  expect(await options.first().textContent()).toBe(
    `${title}${keys.replace('CmdOrCtrl', 'Ctrl').replaceAll('+', ' + ')}`,
  );
});

test('arrows walk through what was found, and words that no command has find none', async () => {
  const page = await openMounted();
  await openFinder(page);
  await page.keyboard.type('go to');
  await page.keyboard.press('ArrowDown');
  await page.getByRole('option', { name: /^Go to the calibration/, selected: true }).waitFor();
  await page.keyboard.type(' nowhere');
  await page.getByText('No command has these words.').waitFor();
  await page.keyboard.press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'hidden' });
});

test('keys of commands do them, and are shown with those of the places', async () => {
  const page = await openMounted();
  await page.keyboard.press('F1');
  const keys = page.getByRole('dialog', { name: 'Keys of the window' });
  await keys.getByRole('region', { name: 'Bench' }).getByText('confirm a pick').waitFor();
  for (const { title } of WINDOW_COMMANDS) await keys.getByText(title, { exact: true }).waitFor();
  expect(await findViolations(page)).toEqual([]);
  await page.keyboard.press('Escape');
  await page.keyboard.press('Alt+4');
  await page.waitForURL(/#intake$/);
});
