import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { type OpenedWindow, openWindow, readText } from './openWindow.ts';

/*
 * The reliability analyst's day: from an empty workspace to the printed file, with the pointer and then by keyboard
 * alone. After each part the console holds no error and no warning.
 */

/** Four visits are read and assessed; a small machine that others use takes its time. */
const LONG_MS = 180_000;

const POLES = ['KV-0101', 'KV-0401', 'KV-0603'];

let opened: OpenedWindow;
beforeAll(async () => {
  opened = await openWindow(inject('browser'), null);
});
afterAll(() => opened.close());
afterEach(() => expect(opened.complaints.splice(0)).toEqual([]));

/** Brings visits in through the dialog, as chosen files. */
async function bringIn(page: Page, files: readonly string[]): Promise<string> {
  await page.getByRole('banner').getByRole('button', { name: 'Bring in visits' }).click();
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Choose files' }).click();
  await (await choosing).setFiles([...files]);
  const summary = page.getByText(/brought in, \d+ already there/);
  await summary.waitFor();
  const words = await readText(summary);
  await page.keyboard.press('Escape');
  return words;
}

/** Assesses the visit on the bench and stores the result. */
async function store(page: Page): Promise<void> {
  await page.getByText(/(assessed|withheld), not stored/).waitFor();
  await page.getByRole('button', { name: 'Assess and store' }).click();
  await page.getByText(/(assessed|withheld), stored/).waitFor();
}

const rowOf = (page: Page, words: string | RegExp) =>
  page.getByRole('row').filter({ hasText: words }).first();
test(
  'brings visits in, assesses them, and finds what waits in the queue with the reason',
  async () => {
    const page = await opened.open();
    const samples = inject('samples');
    const files = readdirSync(samples).filter((name) => POLES.some((pole) => name.startsWith(pole)));
    expect(
      await bringIn(
        page,
        files.map((name) => join(samples, name)),
      ),
    ).toMatch(/^4 brought in, 0 already there, 0 failed/);
    await rowOf(page, 'KV-0101').getByText('not assessed yet').waitFor();
    await page.getByRole('checkbox', { name: /^Choose KV-0101/ }).check();
    await page.getByRole('button', { name: 'Choose all 4 listed' }).click();
    await page.getByText('4 visits chosen').waitFor();
    await page.getByRole('button', { name: 'Assess the 4 without a result' }).click();
    await page.getByText(/Assessing KV-\d+, \d of 4/).waitFor();
    await rowOf(page, 'KV-0401')
      .getByText(/result withheld: none of the \d strikes can be used; \d of \d blows faulty/)
      .waitFor();
    await rowOf(page, '2016-04-27').getByText('nothing: a later visit is there').waitFor();
    expect(await readText(rowOf(page, 'KV-0101'))).toMatch(/% chance below (threshold|requirement)/);
  },
  LONG_MS,
);

test('keeps a view under a name, and shows it to the next window', async () => {
  const page = await opened.open();
  await page.getByRole('textbox', { name: 'Search the register' }).fill('faulty');
  await page.getByText('1 of 4 visits').waitFor();
  await page.getByRole('button', { name: /^(Views|All visits)/ }).click();
  await page.getByRole('menuitem', { name: 'Keep this view under a name' }).click();
  await page.getByRole('textbox', { name: 'Name of the view' }).fill('bad blows');
  await page.getByRole('button', { name: 'Keep view' }).click();
  await page.getByRole('button', { name: 'bad blows' }).waitFor();
  await page.getByRole('button', { name: 'Clear the search' }).click();
  await page.getByText('4 visits', { exact: true }).waitFor();
  await expect.poll(async () => JSON.stringify(await opened.recall('register/views'))).toContain('bad blows');
  const next = await opened.openAgain();
  await next.getByRole('button', { name: /^(Views|All visits)/ }).click();
  await next.getByRole('menuitem', { name: 'bad blows', exact: true }).click();
  await next.getByText('1 of 4 visits').waitFor();
});

test('rules on several visits for one reason, takes it back, and rules again with a second signature', async () => {
  const page = await opened.open();
  for (const pole of ['KV-0101', 'KV-0401']) {
    await page.getByRole('checkbox', { name: new RegExp(`^Choose ${pole}`) }).check();
  }
  await page.getByText('2 visits chosen').waitFor();
  const rule = async (secondPerson: string) => {
    await page.getByRole('button', { name: 'Rule on them' }).click();
    const dialog = page.getByRole('dialog', { name: 'Rule on the chosen visits' });
    await dialog.getByRole('combobox', { name: 'Decision' }).selectOption('measure again');
    await dialog.getByRole('textbox', { name: 'Analyst' }).fill('A. Nalyst');
    await dialog.getByRole('textbox', { name: 'Second signature' }).fill(secondPerson);
    await dialog.getByRole('textbox', { name: 'Reason' }).fill('Wet day; strike again.');
    await dialog.getByRole('button', { name: 'Rule on 2 visits' }).click();
  };
  await rule('');
  await page.getByText('Ruled “measure again” on 2 visits.').waitFor();
  await rowOf(page, 'KV-0101').getByText('nothing: ruled').waitFor();
  await page.getByRole('button', { name: 'Take back' }).click();
  await rowOf(page, 'KV-0401').getByText('result withheld').waitFor();
  for (const pole of ['KV-0101', 'KV-0401']) {
    await page.getByRole('checkbox', { name: new RegExp(`^Choose ${pole}`) }).check();
  }
  await rule('a. nalyst');
  const dialog = page.getByRole('dialog');
  await dialog.getByText('a second signature is somebody else').waitFor();
  await dialog.getByRole('combobox', { name: 'Decision' }).selectOption('keep');
  await dialog.getByText('On 2 of these 2 poles the ground line was not inspected').waitFor();
  await dialog.getByRole('button', { name: 'Rule on 2 visits' }).click();
  await dialog.getByText(/below the requirement with a chance of half or more: KV-0101/).waitFor();
  await dialog.getByRole('button', { name: 'Keep in spite of that' }).click();
  await dialog.getByText('a second signature is somebody else').waitFor();
  // the pressed button is gone: one Escape closes the dialog, and leaves what was chosen
  await page.keyboard.press('Escape');
  await dialog.waitFor({ state: 'detached' });
  await page.getByText('2 visits chosen').waitFor();
  await page.reload();
  await page.getByText('2 visits chosen').waitFor();
  await rule('B. Oss');
  await page.getByText('Ruled “measure again” on 2 visits.').waitFor();
  await page.getByRole('button', { name: 'Take back' }).click();
  await page.getByText('signed by B. Oss is taken back only for a reason').waitFor();
  const because = page.getByRole('textbox', { name: 'Taken back because' });
  await because.fill('a slip');
  await page.getByRole('button', { name: 'Let it stand' }).click();
  await page.getByRole('button', { name: 'Take back' }).click();
  expect(await because.inputValue()).toBe('');
  await page.getByRole('button', { name: 'Let it stand' }).click();
  await rowOf(page, 'KV-0101').getByRole('button').click();
  await page.getByRole('tab', { name: /^Rulings/ }).click();
  await page.getByRole('combobox', { name: 'Decision' }).selectOption('keep');
  expect(await isInSight(page.getByText('The ground line was not inspected, and no result'))).toBe(true);
  expect(await isInSight(page.getByRole('button', { name: 'Save ruling' }))).toBe(true);
  const rulings = page.getByRole('list', { name: 'Rulings on this visit' });
  await rulings.getByText(/Signed by B\. Oss/).waitFor();
  await rulings.getByText(/Withdrawn by A\. Nalyst/).waitFor();
});

/** Whether the middle of an element is where a pointer would meet it, without any scrolling. */
async function isInSight(locator: Locator): Promise<boolean> {
  return locator.evaluate((element) => {
    const { left, top, width, height } = element.getBoundingClientRect();
    return element.contains(document.elementFromPoint(left + width / 2, top + height / 2));
  });
}

test('overrules a strike, sets a prior, and has both in the stored result and in its report', async () => {
  const page = await opened.open();
  await rowOf(page, 'KV-0401').getByRole('button').click();
  await page.getByText('withheld, stored').waitFor();
  await page.getByRole('tab', { name: /^Strikes/ }).click();
  await page
    .getByRole('button', { name: /^Use all the same: strike 1/ })
    .first()
    .click();
  await page.getByRole('button', { name: 'Use all the same', exact: true }).click();
  await page.getByText('Give the reason').waitFor();
  await page
    .getByRole('textbox', { name: 'Use all the same, because' })
    .fill('the clip is over before the ring-down');
  await page.getByRole('button', { name: 'Use all the same', exact: true }).click();
  await page.getByText(/Used by hand/).waitFor();
  await page.getByRole('tab', { name: /^Model/ }).click();
  await page.getByRole('button', { name: 'Set stem modulus' }).click();
  // what the program does not take is told at its field, and the result stays
  await page.getByRole('textbox', { name: 'from', exact: true }).fill('0.01');
  await page.getByRole('button', { name: 'Set for this visit' }).click();
  await page.getByText('type a number from 0.1 to 1000 GPa').waitFor();
  await page.getByRole('textbox', { name: 'from', exact: true }).fill('9');
  await page.getByRole('textbox', { name: 'to', exact: true }).fill('12');
  await page.getByRole('textbox', { name: 'Reason' }).fill('a core was tested');
  await page.getByRole('button', { name: 'Set for this visit' }).click();
  await page.getByText('set here: a core was tested').waitFor();
  // half typed over it, which is no part of what undo brings back
  const from = page.getByRole('textbox', { name: 'from', exact: true });
  await page.getByRole('button', { name: 'Set stem modulus' }).click();
  await from.fill('5');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Undo: prior of stem modulus' }).click();
  await page.getByRole('button', { name: 'Set stem modulus' }).click();
  expect(await from.inputValue()).not.toBe('5');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Redo: prior of stem modulus' }).click();
  await page.getByText('set here: a core was tested').waitFor();
  await page.getByRole('button', { name: 'Set root models' }).click();
  await page.getByRole('textbox', { name: 'coupled' }).fill('0');
  await page.getByRole('textbox', { name: 'Reason' }).fill('the butt is slender');
  await page.getByRole('button', { name: 'Set for this visit' }).click();
  await page.getByText('set here: the butt is slender').waitFor();
  await page
    .getByRole('row', { name: /^coupled/ })
    .getByText('left out')
    .waitFor();
  await page.getByRole('button', { name: 'Undo: root models that compete' }).waitFor();
  await store(page);
  const html = await downloadReport(page, 'HTML');
  expect(html).toContain('the butt is slender');
  expect(html).toContain('used, whatever its checks say');
  expect(html).toContain('the clip is over before the ring-down');
  expect(html).toContain('a core was tested');
});

async function downloadReport(page: Page, format: 'HTML' | 'CSV'): Promise<string> {
  await page.getByRole('button', { name: 'Report', exact: true }).click();
  const dialog = page.getByRole('dialog', { name: 'Report' });
  await dialog.getByRole('radio', { name: new RegExp(`^${format}`) }).check();
  const waiting = page.waitForEvent('download');
  await dialog.getByRole('button', { name: 'Make the file' }).click();
  const text = readFileSync(await (await waiting).path(), 'utf8');
  await page.keyboard.press('Escape');
  await dialog.waitFor({ state: 'detached' });
  return text;
}

test('writes what is listed as CSV, and a chosen visit as one file', async () => {
  const page = await opened.open();
  await page.getByRole('checkbox', { name: /^Choose KV-0101/ }).check();
  const csv = await downloadReport(page, 'CSV');
  const lines = csv.trim().split(/\r?\n/);
  expect(lines).toHaveLength(2);
  expect(lines[1]).toContain('KV-0101');
  expect(lines[1]).toContain('measure again');
});

test('sees a pole over the years on one axis, a corrected file as the same visit, and its place as text', async () => {
  const page = await opened.open();
  const samples = inject('samples');
  const name = readdirSync(samples).find((file) => /^KV-0603-2026.*\.visit\.json$/.test(file))!;
  const visit = JSON.parse(readFileSync(join(samples, name), 'utf8'));
  visit.measured.moisturePercent = 21;
  const corrected = join(opened.folder, 'KV-0603-2026-corrected.visit.json');
  writeFileSync(corrected, JSON.stringify(visit));
  const recordings = visit.recordings.map(({ file }: { file: string }) => join(samples, file));
  expect(await bringIn(page, [corrected, ...recordings])).toMatch(/^1 brought in/);
  await page.getByRole('textbox', { name: 'Search the register' }).fill('KV-0603');
  await page.getByText('3 of 5 visits').waitFor();
  await rowOf(page, 'nothing: a corrected file of this visit is there').getByRole('button').click();
  await page.getByText('assessed, stored').waitFor();
  await page.getByRole('button', { name: 'Years' }).click();
  await page.getByRole('img', { name: /^Pole KV-0603 over 2 visits\. 2016-04-27: E [\d.]+ \(/ }).waitFor();
  const list = page.getByRole('region', { name: 'Visits to this pole' });
  await list.getByText(/The same visit as KV-0603-2026-corrected\.visit\.json/).waitFor();
  expect(await readText(list)).toMatch(/geo:-?[\d.]+,-?[\d.]+/);
  await page.getByRole('button', { name: 'Show before and after as table' }).click();
  await page
    .getByRole('table', { name: /^Visits to KV-0603/ })
    .getByText('2016-04-27')
    .first()
    .waitFor();
  await list.getByRole('button', { name: /^Open the visit of 2016-04-27/ }).click();
  await page.getByText('(visit of 2016-04-27)').waitFor();
});

test('brings back after a crash what was chosen, with its steps', async () => {
  const page = await opened.open();
  await rowOf(page, 'KV-0101').getByRole('button').click();
  const field = page.locator('.picks-table tbody tr').nth(1).getByRole('textbox');
  await field.waitFor();
  const hz = Number(await field.inputValue());
  await field.fill((hz * 1.002).toFixed(3));
  await page.keyboard.press('Enter');
  await page.getByRole('combobox', { name: 'Vertical axis' }).selectOption('linear');
  await page.getByText('assessed, not stored').waitFor();
  const name = `bench/${new URL(page.url()).hash.replace('#visit=', '')}`;
  await expect
    .poll(async () => JSON.stringify(await opened.recall(name)))
    .toContain('"words":"axis of the spectrum"');
  await page.close({ runBeforeUnload: false });
  const again = await opened.openAgain();
  await again.getByRole('button', { name: 'Go on with KV-0101, not stored' }).click();
  await again.getByText('assessed, not stored').waitFor();
  expect(await again.getByRole('combobox', { name: 'Vertical axis' }).inputValue()).toBe('linear');
  await again.getByRole('button', { name: 'Undo: axis of the spectrum' }).click();
  await again.getByRole('button', { name: /^Undo: mode 2 of plane 1/ }).click();
  await again.getByText('assessed, stored').waitFor();
});

test('says of a number how it came about', async () => {
  const page = await opened.open();
  await rowOf(page, 'KV-0101').getByRole('button').click();
  await page.getByText('assessed, stored').waitFor();
  const capacity = page.locator('.capacity-words').getByRole('button').first();
  await capacity.focus();
  await page.keyboard.press('Enter');
  const told = page.getByRole('dialog', { name: /Bending capacity at ground line/ });
  await told
    .getByText(/section modulus/)
    .first()
    .waitFor();
  expect(await readText(told)).toMatch(/handbook@\d|modulus of rupture/);
  expect(await readText(told)).toMatch(/assessment \d+/);
  await told.getByRole('button', { name: /cm³$/ }).click();
  const section = page.getByRole('dialog', { name: 'Section modulus at ground line' });
  expect(await readText(section)).toContain('π d³ / 32');
  await section.getByTitle('How girth at ground line came about').click();
  await page
    .getByRole('dialog', { name: 'Girth at ground line' })
    .getByText(/^by tape at [\d.]+ m$/)
    .first()
    .waitFor();
  await page.getByRole('button', { name: '← back' }).click();
  await page.getByRole('button', { name: '← back' }).click();
  await page.keyboard.press('Escape');
  await told.waitFor({ state: 'detached' });
  expect(await capacity.evaluate((button) => button === document.activeElement)).toBe(true);
});

test('zooms about the pointer by the wheel, moves by keys, and shows the same place in time and frequency', async () => {
  const page = await opened.open();
  await rowOf(page, 'KV-0101').getByRole('button').click();
  const plot = page.getByRole('img', { name: /^Spectrum of/ });
  await plot.waitFor();
  const [from, to] = ['Frequency from', 'Frequency to'].map((name) =>
    page.getByRole('textbox', { name, exact: true }),
  );
  const range = async () => [Number(await from!.inputValue()), Number(await to!.inputValue())] as const;
  const box = (await plot.boundingBox())!;
  await page.mouse.move(box.x + box.width * 0.25, box.y + box.height * 0.3);
  await page.mouse.wheel(0, -400);
  await expect.poll(async () => (await range())[1]).toBeLessThan(59);
  const [low, high] = await range();
  // a zoom about a place a quarter along takes off three times as much above it as below
  expect((60 - high) / Math.max(low, 0.1)).toBeGreaterThan(1.8);
  await plot.focus();
  await page.keyboard.press('ArrowRight');
  await expect.poll(async () => (await range())[0]).toBeGreaterThan(low);
  await page.keyboard.press('0');
  await expect.poll(range).toEqual([0, 80]);
  const levels = page.getByRole('img', { name: /^Waveform and spectrogram/ });
  const area = (await levels.boundingBox())!;
  await page.mouse.move(area.x + area.width / 2, area.y + area.height * 0.75);
  await expect.poll(() => page.locator('.cursor-v').count()).toBe(2);
});

test(
  'the whole journey by keyboard alone, from an empty workspace: bring in, assess, find, open, pick, store, rule, report, next',
  async () => {
    const fresh = await openWindow(inject('browser'), null);
    try {
      await walkByKeyboard(await fresh.open());
      expect(fresh.complaints).toEqual([]);
    } finally {
      await fresh.close();
    }
  },
  LONG_MS,
);

async function walkByKeyboard(page: Page): Promise<void> {
  const tabTo = async (name: RegExp | string, role: Parameters<Page['getByRole']>[0]) => {
    const target = page.getByRole(role, { name, ...(typeof name === 'string' && { exact: true }) }).first();
    await target.waitFor();
    for (let presses = 0; presses < 120; presses++) {
      if (await target.evaluate((element) => element === element.ownerDocument.activeElement)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`Tab never comes to ${role} ${name}`);
  };
  const samples = inject('samples');
  await tabTo('Bring in visits', 'button');
  await page.keyboard.press('Enter');
  const choosing = page.waitForEvent('filechooser');
  await tabTo('Choose files', 'button');
  await page.keyboard.press('Enter');
  const files = readdirSync(samples).filter((name) => name.startsWith('KV-0101'));
  await (await choosing).setFiles(files.map((name) => join(samples, name)));
  await page.getByText(/^1 brought in/).waitFor();
  await page.keyboard.press('Escape');
  await page.getByRole('dialog').waitFor({ state: 'detached' });
  await tabTo('Search the register', 'textbox');
  await page.keyboard.type('KV-0101');
  await tabTo(/^Visits/, 'group');
  await page.keyboard.press('End');
  await page.keyboard.press('Home');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'KV-0101', level: 1 }).waitFor();
  const state = page.locator('.bench-verdict');
  await expect.poll(() => readText(state)).toMatch(/^assessed/);
  await tabTo(/^Mode 2 of plane 1/, 'slider');
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: /^Undo: mode 2 of plane 1 .* confirmed/ }).waitFor();
  await tabTo('Assess and store', 'button');
  await page.keyboard.press('Enter');
  await page.getByText('assessed, stored').waitFor();
  await tabTo(/^Findings/, 'tab');
  await page.keyboard.press('End');
  await tabTo('Decision', 'combobox');
  await page.keyboard.type('watch');
  await tabTo('Analyst', 'textbox');
  await page.keyboard.type('A. Nalyst');
  await tabTo('Reason', 'textbox');
  await page.keyboard.type('Holds; look again in five years.');
  await tabTo('Save ruling', 'button');
  await page.keyboard.press('Enter');
  await page.getByRole('list', { name: 'Rulings on this visit' }).getByText('watch').waitFor();
  await tabTo('Report', 'button');
  await page.keyboard.press('Enter');
  await page.getByRole('dialog', { name: 'Report' }).waitFor();
  await tabTo('Make the file', 'button');
  const waiting = page.waitForEvent('download');
  await page.keyboard.press('Enter');
  expect(readFileSync(await (await waiting).path(), 'utf8')).toContain('Holds; look again in five years.');
  await page.keyboard.press('Escape');
  await tabTo('Next', 'button');
  await page.keyboard.press('Enter');
  const next = page.getByRole('button', { name: 'Next', exact: true });
  await expect.poll(() => next.isDisabled()).toBe(true);
}
