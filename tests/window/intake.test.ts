import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { isAbsolute, join } from 'node:path';
import type { Browser, Page } from 'playwright';
import { afterAll, afterEach, beforeAll, describe, expect, inject, test } from 'vitest';
import { parseVisitFile } from '../../core/recording/index.ts';
import { WINDOW_FOLDER } from '../../host/buildWindow.ts';
import { serve } from '../../host/serve.ts';
import { openWorkbench } from '../../host/shelf/openWorkbench.ts';
import { dropFiles } from './dropFiles.ts';
import { findViolations } from './findViolations.ts';
import { launch, type OpenedWindow, openWindow, readText } from './openWindow.ts';

let opened: OpenedWindow;
let folder: string;
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'stemroot-intake-'));
  opened = await openWindow(inject('browser'), null);
});
afterAll(async () => {
  await opened.close();
  rmSync(folder, { recursive: true, force: true });
});
afterEach(() => expect(opened.complaints.splice(0)).toEqual([]));

const sample = (name: string) => join(inject('samples'), name);
const field = (page: Page, name: string) => page.getByRole('textbox', { name, exact: true });
const words = (page: Page, path: string) => page.locator(`[data-path="${path}"]`);

/** Types into the field that has the keyboard, and goes on to the next. @param tabs - a field with a unit has a button behind it */
async function type(page: Page, text: string, tabs: number): Promise<void> {
  await page.keyboard.type(text);
  for (let i = 0; i < tabs; i++) await page.keyboard.press('Tab');
}

async function attach(page: Page, names: readonly string[]): Promise<void> {
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Attach recordings' }).press('Enter');
  await (await choosing).setFiles(names.map((name) => (isAbsolute(name) ? name : sample(name))));
  await page.getByRole('region', { name: names.at(-1)!, exact: true }).waitFor();
}

test('a visit is written down by keyboard in feet and inches, checked while typing, and brought in', async () => {
  const page = await opened.open();
  await page.getByRole('main').getByRole('button', { name: 'Write a visit down' }).press('Enter');
  await page.getByRole('button', { name: 'Begin', exact: true }).press('Enter');
  await page.getByRole('radio', { name: 'm, cm, kg' }).focus();
  await page.keyboard.press('ArrowRight');
  await field(page, 'Number (needed)').focus();
  await type(page, 'KV-9001', 1);
  await type(page, 'southern', 1);
  await type(page, '4', 1);
  await type(page, '35', 2);
  await page.getByText('= 10.668 m').waitFor();
  await type(page, 'creosote', 1);
  await type(page, '1998', 1);
  await type(page, `10'`, 2);
  await page.getByLabel('Date (needed)').fill('2026-05-03');
  await field(page, 'Tag above ground').focus();
  await type(page, '11', 1);
  await words(page, 'measured.tagHeight').getByText('the butt would not be in the ground').waitFor();
  await field(page, 'Tag above ground').fill('4 ft 6 in');
  await words(page, 'measured.tagHeight').getByText('= 1.3716 m').waitFor();
  const girth = field(page, 'Circumference (needed)');
  await girth.fill('10.7');
  await words(page, 'circumferences.0.circumference').getByText('Is this the diameter?').waitFor();
  await girth.fill('31 1/2');
  await words(page, 'circumferences.0.circumference').getByText('= 0.8001 m').waitFor();
  await field(page, 'Sensor height (needed)').fill('30');
  await words(page, 'measured.sensorHeight').getByText('where a person reaches').waitFor();
  await field(page, 'Sensor height (needed)').fill('6.5');
  await attach(page, ['KV-0101-2026-hammer.wav']);
  await page.getByText('There is no blow by hand among these.').first().waitFor();
  await attach(page, ['KV-0101-2026-hand.wav']);
  const hammer = page.getByRole('region', { name: 'KV-0101-2026-hammer.wav', exact: true });
  expect(await hammer.getByRole('combobox', { name: 'Struck by' }).inputValue()).toBe('hammer');
  await hammer.getByText('from the file name').waitFor();

  await page.getByRole('button', { name: 'Bring the visit in' }).press('Enter');
  await page.getByRole('alert').getByText('The acceleration at full scale is needed').waitFor();
  await page
    .getByRole('list', { name: 'To be settled' })
    .getByRole('button', { name: 'Full scale, recording 1, channel 1' })
    .press('Enter');
  await page.keyboard.type('5');
  await page.getByRole('button', { name: 'Full scale and corner for all channels' }).press('Enter');
  await page.getByRole('heading', { name: 'Nothing is missing' }).waitFor();
  const summary = page.getByRole('complementary', { name: 'What is missing or odd' });
  expect(await readText(summary)).toMatch(/Soil: unknown \(usual practice\)/);

  const saving = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save a copy as file' }).press('Enter');
  const copy = await saving;
  const visit = parseVisitFile(readFileSync(await copy.path(), 'utf8'), copy.suggestedFilename());
  // NIST SP 811, appendix B.8: 35 ft, 10 ft, 4.5 ft, 31.5 in; 5 times the standard acceleration of gravity
  expect(visit).toMatchObject({
    pole: {
      id: 'KV-9001',
      species: 'southern-pine',
      classCode: '4',
      lengthM: 10.668,
      setYear: 1998,
      buttToTagM: 3.048,
    },
    measured: { tagHeightM: 1.3716, circumferences: [{ circumferenceM: 0.8001 }] },
  });
  expect(visit.recordings[1]!.channels[1]!.fullScaleMPerS2).toBeCloseTo(49.03325, 6);
  await page.getByRole('button', { name: 'Bring the visit in' }).press('Enter');
  await page.getByRole('heading', { name: 'KV-9001', level: 1 }).waitFor();

  // the next visit begins with what this crew does alike
  await page.getByRole('button', { name: 'New visit' }).click();
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await words(page, 'measured.sensorHeight').getByText('as last time').waitFor();
  await page.getByRole('button', { name: 'Give it up' }).click();
  await page.getByRole('button', { name: 'Give up', exact: true }).click();
  await page.getByRole('heading', { name: 'Write a visit down' }).waitFor();
});

test('units are those in which each answer was typed; a unit pressed reads the same digits anew', async () => {
  const page = await opened.open();
  await page.getByRole('button', { name: 'New visit' }).click();
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await field(page, 'Length (needed)').fill('35');
  await words(page, 'pole.length').getByText('Was it in feet?').waitFor();
  await page.getByText('ft, in, lb').click();
  expect(await field(page, 'Length (needed)').inputValue()).toBe('35');
  await words(page, 'pole.length').getByText('= 114.83 ft').waitFor();
  await page.getByRole('button', { name: 'Length is in m; read it as ft instead' }).click();
  await words(page, 'pole.length').getByText('= 10.668 m').waitFor();
  await page.getByRole('button', { name: 'Temperature is in °F; read it as °C instead' }).waitFor();
});

test('nothing typed is lost over a reload in the midst of a word, nor with the window', async () => {
  const page = await opened.open();
  await page.getByRole('button', { name: 'New visit' }).click();
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  const broken = join(folder, 'notes.wav');
  writeFileSync(broken, 'this is no recording');
  await attach(page, [broken, 'KV-0102-2026-hammer.wav']);
  // the one that was taken stands there, and what is wrong with the other is said
  await page
    .getByRole('alert')
    .getByText(/notes\.wav/)
    .waitFor();
  await field(page, 'Number (needed)').focus();
  await page.keyboard.type('KV-77');
  await page.reload();
  await field(page, 'Number (needed)').waitFor();
  expect(await field(page, 'Number (needed)').inputValue()).toBe('KV-77');
  await field(page, 'Treatment').fill('penta');
  await page.waitForResponse((response) => response.url().includes('choices.keep'));
  await page.context().close();
  const after = await opened.openAgain();
  await after.getByRole('button', { name: 'New visit' }).click();
  await field(after, 'Treatment').waitFor();
  expect(await field(after, 'Treatment').inputValue()).toBe('penta');
  const hammer = after.getByRole('region', { name: 'KV-0102-2026-hammer.wav', exact: true });
  await hammer.getByText('2 channels').waitFor();
  await after.getByRole('button', { name: 'Begin another' }).click();
  await after.getByRole('button', { name: 'KV-77' }).click();
  expect(await field(after, 'Treatment').inputValue()).toBe('penta');
});

test('visits dropped anywhere come in; recordings alone begin a visit that is written down', async () => {
  const page = await opened.open();
  await page.getByRole('main').waitFor();
  const files = readdirSync(inject('samples')).filter((name) => name.startsWith('KV-0104'));
  await dropFiles(page, files.map(sample));
  await page.getByText('1 brought in, 0 already there, 0 failed.').waitFor();
  await page.keyboard.press('Escape');
  await page.getByRole('row', { name: /KV-0104/ }).waitFor();

  const other = join(folder, 'notes.docx');
  writeFileSync(other, 'nothing');
  await dropFiles(page, [sample('KV-0201-2026-hand.wav'), other]);
  await page.getByText('0 brought in, 0 already there, 1 failed.').waitFor();
  await page.getByText('No visit file names this recording: KV-0201-2026-hand.wav.').waitFor();
  await page.getByRole('button', { name: 'Write a visit down for it' }).click();
  const hand = page.getByRole('region', { name: 'KV-0201-2026-hand.wav', exact: true });
  await hand.waitFor();
  expect(await hand.getByRole('combobox', { name: 'Struck by' }).inputValue()).toBe('hand');
  // dropped on the form, a recording belongs to the visit
  const target = page.getByText('or drop them here');
  await target.scrollIntoViewIfNeeded();
  const box = (await target.boundingBox())!;
  await dropFiles(page, [sample('KV-0201-2026-hammer.wav')], { x: box.x + 4, y: box.y + 4 });
  await page.getByRole('region', { name: 'KV-0201-2026-hammer.wav', exact: true }).waitFor();
  expect(await page.getByRole('dialog').count()).toBe(0);
});

/** Two visits whose recordings have the same names, each in a folder of its own, and what a system leaves behind. */
function makeRound(): string {
  const round = join(folder, `round-${readdirSync(folder).length}`);
  for (const pole of ['KV-0105', 'KV-0107']) {
    const own = join(round, 'May', pole);
    mkdirSync(own, { recursive: true });
    const visit = JSON.parse(readFileSync(sample(`${pole}-2026.visit.json`), 'utf8'));
    for (const recording of visit.recordings as { file: string; exciter: string }[]) {
      const name = recording.file.replace(/^.*(hammer|hand)/, '$1');
      copyFileSync(sample(recording.file), join(own, name));
      recording.file = name;
    }
    writeFileSync(join(own, 'pole.visit.json'), JSON.stringify(visit));
    writeFileSync(join(own, '.DS_Store'), '');
  }
  return round;
}

test('a folder that is dropped brings in what lies below it, each visit with the recordings beside it', async () => {
  const page = await opened.open();
  await page.getByRole('main').waitFor();
  await dropFiles(page, [makeRound()]);
  await page.getByText('2 brought in, 0 already there, 0 failed.').waitFor();
  await page.keyboard.press('Escape');
  for (const pole of ['KV-0105', 'KV-0107'])
    await page.getByRole('row', { name: new RegExp(pole) }).waitFor();
});

test('what is dropped comes in though what lies under the pointer has changed since it moved last', async () => {
  const page = await opened.open();
  await page.getByRole('main').waitFor();
  await dropFiles(page, [makeRound()], undefined, () =>
    page.evaluate(() => {
      const cover = document.createElement('div');
      cover.style.cssText = 'position: fixed; inset: 0';
      document.body.append(cover);
    }),
  );
  await page.getByText('0 brought in, 2 already there, 0 failed.').waitFor();
});

test('a folder that is chosen does the same, and what is there already is told', async () => {
  const page = await opened.open();
  await page.getByRole('banner').getByRole('button', { name: 'Bring in visits' }).click();
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Choose a folder' }).click();
  await (await choosing).setFiles(makeRound());
  await page.getByText('0 brought in, 2 already there, 0 failed.').waitFor();
});

describe.each(['light', 'dark'] as const)('in %s colours', (colorScheme) => {
  test('the form has no violation, empty or tried', async () => {
    const page = await opened.open({ colorScheme });
    await page.getByRole('button', { name: 'New visit' }).click();
    expect(await findViolations(page)).toEqual([]);
    await page.getByRole('button', { name: 'Begin', exact: true }).click();
    await page.getByRole('button', { name: 'Add a cable' }).click();
    await attach(page, ['KV-0101-2026-hammer.wav']);
    await page.getByRole('button', { name: 'Bring the visit in' }).click();
    await page.getByRole('alert').first().waitFor();
    expect(await findViolations(page)).toEqual([]);
  });
});

describe('around the workspace', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await launch(inject('browser'));
  });
  afterAll(() => browser.close());

  test('hints go when they were read or followed, and stay away; another workspace is one choice away', async () => {
    const home = mkdtempSync(join(folder, 'home-'));
    const settings = { folder: join(home, 'settings'), create: true };
    await (await openWorkbench(join(home, 'north.stemroot'), settings)).close();
    copyFileSync(inject('workspace'), join(home, 'south.stemroot'));
    const workbench = await openWorkbench(join(home, 'south.stemroot'), settings);
    const host = await serve(workbench.answer, WINDOW_FOLDER);
    const open = async () => {
      const page = await (await browser.newContext()).newPage();
      await page.goto(host.address);
      await page.getByRole('heading', { level: 1 }).first().waitFor();
      return page;
    };
    const page = await open();
    const hint = page.getByRole('complementary', { name: 'Hint' });
    await hint.getByText('Visits that wait for a person come first').waitFor();
    await page.getByRole('button', { name: 'KV-0101' }).click();
    await hint.getByText('Numbered marks in the spectrum').waitFor();
    await hint.getByRole('button', { name: 'Got it' }).click();
    await hint.getByText('Stem against root').waitFor();

    const again = await open();
    const left = again.getByRole('complementary', { name: 'Hint' });
    // the first was followed, the second of this place is due
    await left.getByText('Your own visits').waitFor();
    await left.getByRole('button', { name: 'No more hints' }).click();
    await left.waitFor({ state: 'detached' });
    const third = await open();
    await third.getByRole('button', { name: /^south:/ }).click();
    await third.getByRole('menuitem', { name: /^north/ }).waitFor();
    expect(await third.getByRole('complementary', { name: 'Hint' }).count()).toBe(0);
    await third.keyboard.press('ArrowDown');
    await third.keyboard.press('Enter');
    await third.getByRole('heading', { name: 'No visits in this workspace yet' }).waitFor();
    await third.getByRole('button', { name: /^north: 0 poles/ }).waitFor();
    await host.close();
    await workbench.close();
  });
});
