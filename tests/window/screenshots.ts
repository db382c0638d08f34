import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright';
import { buildWindow } from '../../host/buildWindow.ts';
import { makeSamples } from '../../samples/make.ts';
import { STORIES } from '../../samples/stories.ts';
import { findBrowser } from './findBrowser.ts';
import { makeWorkspace } from './makeWorkspace.ts';
import { openVisit, openWindow } from './openWindow.ts';
import { fillCalibration, pictureCalibration } from './pictureCalibration.ts';
import { pictureClassroom, pictureForm } from './pictureTeaching.ts';

/*
 * Makes the pictures of the window for the documents: register, bench and a pole over the years, the classroom and a visit
 * written down, the calibration place, light and dark, on two sizes of screen, and the bench with poles over model orders once.
 * Run by: node tests/window/screenshots.ts [results|teaching|calibration]; without a word it makes all of them.
 */
const PICTURES = fileURLToPath(new URL('../../docs/pictures/', import.meta.url));
const LARGE = { width: 1920, height: 1080 };
const SIZES = [{ width: 1280, height: 800 }, LARGE];
/** Mode 1 is faint here, and strikes are to be used with care. */
const SHOWN_POLE = 'KV-0106';
/** Visited twice, ten years apart. */
const OLD_POLE = 'KV-0603';

const folder = mkdtempSync(join(tmpdir(), 'stemroot-pictures-'));
try {
  await buildWindow();
  makeSamples(folder);
  const visits = join(folder, 'visits');
  const wanted = process.argv[2];
  if (wanted === undefined || wanted === 'results') {
    const workspace = join(folder, 'kestrel-vale.stemroot');
    await makeWorkspace(workspace, visits, null);
    await takePictures(workspace);
  }
  if (wanted === undefined || wanted === 'teaching') {
    const workspace = join(folder, 'kelvermoor.stemroot');
    // blows are judged without a result
    await makeWorkspace(
      workspace,
      visits,
      null,
      STORIES.map(({ id }) => id),
    );
    await takeTeachingPictures(workspace, visits);
  }
  if (wanted === undefined || wanted === 'calibration') {
    const workspace = join(folder, 'calibrated.stemroot');
    await makeWorkspace(workspace, visits, null);
    await fillCalibration(workspace);
    await takeCalibrationPictures(workspace);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

async function takePictures(workspace: string): Promise<void> {
  mkdirSync(PICTURES, { recursive: true });
  const opened = await openWindow(findBrowser(), workspace);
  for (const colorScheme of ['light', 'dark'] as const) {
    for (const viewport of SIZES) {
      const ending = `${colorScheme}-${viewport.width}.png`;
      const page = await opened.open({ colorScheme, viewport });
      await page.getByRole('row').nth(5).waitFor();
      await page.screenshot({ path: join(PICTURES, `register-${ending}`) });
      await openVisit(page, SHOWN_POLE);
      for (const name of [/^Waveform/, /^Spectrum/, /^Stem against root/]) {
        await page.getByRole('img', { name }).locator('.main-svg').first().waitFor();
      }
      await page.waitForLoadState('networkidle');
      await page.screenshot({ path: join(PICTURES, `bench-${ending}`) });
      if (colorScheme === 'light' && viewport === LARGE) await pictureOrders(page);
      await pictureYears(page, ending);
    }
  }
  await opened.close();
}

async function takeCalibrationPictures(workspace: string): Promise<void> {
  mkdirSync(PICTURES, { recursive: true });
  const opened = await openWindow(findBrowser(), workspace);
  for (const colorScheme of ['light', 'dark'] as const) {
    for (const viewport of SIZES) {
      const page = await opened.open({ colorScheme, viewport });
      await pictureCalibration(page, PICTURES, `${colorScheme}-${viewport.width}.png`);
    }
  }
  await opened.close();
}

async function takeTeachingPictures(workspace: string, visits: string): Promise<void> {
  mkdirSync(PICTURES, { recursive: true });
  const opened = await openWindow(findBrowser(), workspace);
  const recordings = ['hammer', 'hand'].map((by) => join(visits, `KV-0101-2026-${by}.wav`));
  for (const colorScheme of ['light', 'dark'] as const) {
    for (const viewport of SIZES) {
      const ending = `${colorScheme}-${viewport.width}.png`;
      await pictureClassroom(await opened.open({ colorScheme, viewport }), PICTURES, ending);
      await pictureForm(await opened.open({ colorScheme, viewport }), PICTURES, ending, recordings);
    }
  }
  await opened.close();
}

async function pictureOrders(page: Page): Promise<void> {
  await page.getByRole('combobox', { name: 'Kind of spectrum' }).selectOption('model orders');
  await page.getByRole('listbox').first().focus();
  for (const key of ['Home', 'ArrowRight', 'ArrowRight']) await page.keyboard.press(key);
  await page
    .getByRole('img', { name: /^Poles by/ })
    .locator('.main-svg')
    .first()
    .waitFor();
  await page.screenshot({ path: join(PICTURES, `stabilisation-${LARGE.width}-light.png`) });
}

async function pictureYears(page: Page, ending: string): Promise<void> {
  await page.getByRole('navigation', { name: 'Places' }).getByRole('button', { name: 'Register' }).click();
  await openVisit(page, OLD_POLE);
  await page.getByRole('button', { name: 'Years' }).click();
  await page
    .getByRole('img', { name: /^Pole .* over/ })
    .locator('.main-svg')
    .first()
    .waitFor();
  await page.screenshot({ path: join(PICTURES, `years-${ending}`) });
}
