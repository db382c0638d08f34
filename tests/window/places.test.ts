import type { Page } from 'playwright';
import { afterAll, beforeAll, expect, inject, test } from 'vitest';
import { type OpenedWindow, openVisit, openWindow } from './openWindow.ts';
import { fillCalibration } from './pictureCalibration.ts';

/*
 * Once through every place, each of its parts and the dialogs of all places, on the smallest screen: what holds of the window as a
 * whole, whatever a place is for.
 */

/** A series of break tests is fitted on the way. */
const LONG_MS = 120_000;

/** Plots of a part of the calibration place that are drawn last. */
const LAST_PLOTS: Readonly<Record<string, RegExp>> = {
  Relations: /^Error on poles not seen/,
  Threshold: /^Weak poles caught/,
};

let opened: OpenedWindow;
beforeAll(async () => {
  opened = await openWindow(inject('browser'), inject('workspace'), fillCalibration);
}, LONG_MS);
afterAll(() => opened.close());

/** The page itself never scrolls, and each plot has a name and a table of the same data beside it. */
async function look(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const { scrollWidth, clientWidth, scrollHeight, clientHeight } = document.documentElement;
    const plots = [...document.querySelectorAll('[role="img"]')];
    const named = (plot: Element) => (plot.getAttribute('aria-label') ?? '').trim() !== '';
    const tabled = (plot: Element) =>
      plot.closest('.panel')?.querySelector('[aria-label$=" as table"]') != null;
    return [
      ...(scrollWidth > clientWidth || scrollHeight > clientHeight ? ['the page scrolls'] : []),
      ...plots.filter((plot) => !named(plot)).map(() => 'a plot has no name'),
      ...plots.filter((plot) => !tabled(plot)).map((plot) => `no table: ${plot.getAttribute('aria-label')}`),
    ];
  });
}

test(
  'no place, part or dialog complains in the console, scrolls the page, or draws what is not told in words and figures',
  async () => {
    const page = await opened.open();
    const odd: string[] = [];
    let plots = 0;
    const check = async (where: string) => {
      await page.waitForLoadState('networkidle');
      odd.push(...(await look(page)).map((words) => `${where}: ${words}`));
      odd.push(...opened.complaints.splice(0).map((words) => `${where}: ${words}`));
      plots += await page.locator('[role="img"]').count();
    };
    const go = (place: string) =>
      page.getByRole('navigation', { name: 'Places' }).getByRole('button', { name: place }).click();

    await page.getByRole('row').nth(3).waitFor();
    await check('register');
    await openVisit(page, 'KV-0106');
    await page.getByRole('img', { name: /^Spectrum/ }).waitFor();
    for (const tab of await page.getByRole('tab').all()) {
      await tab.click();
      await check(`bench, ${await tab.textContent()}`);
    }
    await page.getByRole('button', { name: 'Notes in the place of the pictures' }).click();
    await check('bench, notes with room');
    await page.getByRole('button', { name: 'Notes below the pictures' }).click();
    await page.getByRole('combobox', { name: 'Kind of spectrum' }).selectOption('model orders');
    await page.getByRole('img', { name: /^Poles by/ }).waitFor();
    await page.getByRole('button', { name: 'What if' }).click();
    await check('bench, model orders and what if');
    await page.getByRole('button', { name: 'Years' }).click();
    await page.getByRole('img', { name: /^Pole KV-0106 over/ }).waitFor();
    await check('years');

    await go('Calibration');
    const parts = page
      .getByRole('navigation', { name: 'Parts of the calibration place' })
      .getByRole('button');
    await parts.first().waitFor();
    for (const part of await parts.all()) {
      await part.click();
      const name = await part.textContent();
      const drawn = LAST_PLOTS[name ?? ''];
      if (drawn) await page.getByRole('img', { name: drawn }).waitFor();
      await check(`calibration, ${name}`);
    }
    await go('Classroom');
    for (const tab of await page.getByRole('tab').all()) {
      await tab.click();
      await check(`classroom, ${await tab.textContent()}`);
    }
    await go('New visit');
    await check('new visit');

    for (const keys of ['Control+k', 'F1']) {
      await page.keyboard.press(keys);
      await page.getByRole('dialog').waitFor();
      await check(`dialog of ${keys}`);
      await page.keyboard.press('Escape');
      await page.getByRole('dialog').waitFor({ state: 'detached' });
    }
    await page.getByRole('banner').getByRole('button', { name: 'Bring in visits' }).click();
    await page.getByRole('dialog').waitFor();
    await check('dialog of bringing in');
    expect(odd).toEqual([]);
    expect(plots).toBeGreaterThan(20);
  },
  LONG_MS,
);
