import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { type OpenedWindow, openVisit, openWindow, readText } from './openWindow.ts';

let opened: OpenedWindow;
beforeAll(async () => {
  opened = await openWindow(inject('browser'), inject('workspace'));
});
afterAll(() => opened.close());
afterEach(() => expect(opened.complaints.splice(0)).toEqual([]));

async function openBench(poleId = 'KV-0101'): Promise<Page> {
  const page = await opened.open();
  await openVisit(page, poleId);
  return page;
}

/** The median of E with its interval, once no fit is under way. */
async function readModulus(page: Page): Promise<string> {
  await page.getByText('fitting anew').first().waitFor({ state: 'hidden' });
  return readText(page.getByRole('definition').filter({ hasText: 'GPa' }).first());
}

const markers = (page: Page) => page.getByRole('slider', { name: /^Mode/ });
const rowOf = (page: Page, index: number) => page.locator('.picks-table tbody tr').nth(index);
const frequencyOf = (page: Page, index: number) => rowOf(page, index).getByRole('textbox');

test('shows recordings, picks of both planes, stem, root and capacity of a visit', async () => {
  const page = await openBench();
  // each picture is drawn when its own answer is there
  for (const name of [
    /^Waveform and spectrogram/,
    /^Spectrum of the chosen strike. Picks: mode 1/,
    /^Stem against root: E .* GPa, fixity/,
    /^Capacity .* kN·m against requirement/,
  ]) {
    await page.getByRole('img', { name }).waitFor();
  }
  await expect.poll(() => markers(page).count()).toBeGreaterThanOrEqual(6);
  expect(await readText(rowOf(page, 0))).toContain('proposed');
  expect(await readModulus(page)).toMatch(/^[\d.]+ \([\d.]+ to [\d.]+\) GPa$/);
  await page.getByText('Chance that capacity is below the requirement:').waitFor();
  expect(
    await page.getByText('A licensed engineer decides on replacement and on restoration.').isVisible(),
  ).toBe(true);
});

test('has a visit analysed once it is drawn, so that the first moved pick does not wait for it', async () => {
  const page = await opened.open();
  const analysed = page.waitForRequest(/visit\.tryPicks$/);
  await openVisit(page, 'KV-0101');
  expect((await analysed).postDataJSON()).toMatchObject({ decisions: [] });
  await page.getByText('assessed, stored').waitFor();
});

test('confirms a pick by keyboard and says so; undo takes it back and leaves the view alone', async () => {
  const page = await openBench();
  await page.getByRole('textbox', { name: 'Frequency to', exact: true }).fill('30');
  await page.keyboard.press('Enter');
  const marker = markers(page).first();
  await marker.focus();
  await page.keyboard.press('Enter');
  await rowOf(page, 0).getByText('by analyst').waitFor();
  await page.getByText('assessed, not stored').waitFor();
  await marker.focus();
  await page.keyboard.press('Control+z');
  await rowOf(page, 0).getByText('proposed').waitFor();
  await page.getByText('assessed, stored').waitFor();
  expect(await page.getByRole('textbox', { name: 'Frequency to', exact: true }).inputValue()).toBe('30.0');
  await page.keyboard.press('Control+Shift+z');
  await rowOf(page, 0).getByText('by analyst').waitFor();
});

test('moves a pick by arrow keys, ten times as far with Shift', async () => {
  const page = await openBench();
  const marker = markers(page).nth(1);
  const valueNow = async () => Number(await marker.getAttribute('aria-valuenow'));
  await marker.focus();
  const start = await valueNow();
  await page.keyboard.press('ArrowRight');
  const step = (await valueNow()) - start;
  await page.keyboard.press('Shift+ArrowRight');
  expect(step).toBeGreaterThan(0);
  expect((await valueNow()) - start).toBeCloseTo(11 * step, 1);
});

test('a frequency typed where nothing rings is named and withholds the result, and undo takes it back', async () => {
  const page = await openBench();
  const before = await readModulus(page);
  const field = frequencyOf(page, 1);
  const hz = Number(await field.inputValue());
  await field.fill((hz * 1.15).toFixed(2));
  await page.keyboard.press('Enter');
  await page.getByText('withheld, not stored').waitFor();
  await page.getByText('no strike shows a mode there').first().waitFor();
  await page.keyboard.press('Control+z');
  await page.getByText('assessed, stored').waitFor();
  await page.getByText('no strike shows a mode there').first().waitFor({ state: 'detached' });
  expect(await readModulus(page)).toBe(before);
  expect(Number(await field.inputValue())).toBe(hz);
  for (const row of [3, 2, 1]) {
    const refuse = rowOf(page, row).getByRole('button', { name: /^Refuse/ });
    if (await refuse.isEnabled()) await refuse.click();
    await readModulus(page);
  }
  await expect.poll(() => readModulus(page)).not.toBe(before);
});

test('a frequency typed far off mode 1 keeps the other plane its pick, and the row and the next steps say why nothing is told', async () => {
  const page = await openBench();
  const other = page.getByRole('textbox', { name: /^Frequency of mode 1 of plane 2/ });
  const seen = Number(await other.inputValue());
  const field = frequencyOf(page, 0);
  const hz = Number(await field.inputValue());
  // held back, so that what is shown meanwhile can be looked at
  let letGo = () => {};
  const held = new Promise<void>((resolve) => {
    letGo = resolve;
  });
  await page.route('**/visit.tryPicks', async (route) => {
    await held;
    await route.continue();
  });
  await field.fill((hz * 1.28).toFixed(3));
  await page.keyboard.press('Enter');
  await rowOf(page, 0).getByText('fitting anew').waitFor();
  for (const title of ['Stem against root', 'Capacity against requirement']) {
    await page.getByRole('region', { name: title }).getByText('fitting anew').waitFor();
  }
  // what was fitted to the pick before is faint in all three places
  await page.locator('.picks-panel.is-overtaken').waitFor();
  expect(await page.locator('.panel-body.is-overtaken').count()).toBe(2);
  letGo();
  await page.getByText('withheld, not stored').waitFor();
  expect(await page.locator('.is-overtaken').count()).toBe(0);
  await rowOf(page, 0).getByText('no strike shows it').waitFor();
  expect(Number(await other.inputValue()) / seen).toBeCloseTo(1, 2);
  const steps = page
    .getByRole('heading', { name: 'What to do next' })
    .locator('xpath=following-sibling::ul[1]');
  expect(await readText(steps.getByRole('listitem').first())).toMatch(
    /^Mode 1 of plane 1 .* was set by hand at/,
  );
  await page.getByText('Withheld: these are no result.').waitFor();
});

test('on the smallest screen the remark of the spectrum is whole, and no mark covers the name of a plane', async () => {
  const page = await openBench();
  // mode 4 comes near the right edge
  await page.getByRole('textbox', { name: 'Frequency to', exact: true }).fill('48');
  await page.keyboard.press('Enter');
  const spectrum = page.getByRole('region', { name: 'Spectrum', exact: true });
  const last = spectrum.getByRole('slider', { name: /^Mode 4 of plane 1/ });
  await last.waitFor();
  const remark = spectrum.getByText('△ predicted, × no pick');
  expect(await remark.evaluate((own) => own.scrollWidth - own.clientWidth)).toBe(0);
  const name = (await spectrum.getByText('plane 1').boundingBox())!;
  const mark = (await last.boundingBox())!;
  expect(mark.x + mark.width).toBeLessThan(name.x);
});

test('a pick set beside its peak shows the frequency that the program used, and says where it was set', async () => {
  const page = await openBench();
  const field = frequencyOf(page, 1);
  const hz = Number(await field.inputValue());
  await field.fill((hz * 1.03).toFixed(3));
  await page.keyboard.press('Enter');
  const state = rowOf(page, 1).getByText(/^set at [\d.]+, found at [\d.]+$/);
  await state.waitFor();
  const [set, found] = (await readText(state)).match(/[\d.]+\d/g)!.map(Number);
  expect(set).toBeCloseTo(hz * 1.03, 1);
  expect(Number(await field.inputValue())).toBe(found);
});

test('a typed frequency that no pole has stays as typed, marked, with words; Escape gives the old one back', async () => {
  const page = await openBench();
  const field = frequencyOf(page, 0);
  const before = await field.inputValue();
  for (const text of ['-3', 'abc']) {
    await field.fill(text);
    await page.keyboard.press('Enter');
    await rowOf(page, 0).getByText('type a number from 0.1 to 1000 Hz').waitFor();
    expect(await field.inputValue()).toBe(text);
    expect(await field.getAttribute('aria-invalid')).toBe('true');
  }
  await page.keyboard.press('Escape');
  expect(await field.inputValue()).toBe(before);
  expect(await page.getByText('type a number').count()).toBe(0);
  expect(await page.getByText('assessed, stored').isVisible()).toBe(true);
});

test('refuses a peak, adds the pick again by a click that snaps to the peak, and leaves it to the program', async () => {
  const page = await openBench();
  const hz = Number(await frequencyOf(page, 2).inputValue());
  await markers(page).nth(2).waitFor();
  const count = await markers(page).count();
  const place = await markers(page).nth(2).boundingBox();
  await rowOf(page, 2)
    .getByRole('button', { name: /^Refuse/ })
    .click();
  await page.getByRole('list', { name: 'Refused peaks' }).getByText('plane 1').waitFor();
  await readModulus(page);
  await rowOf(page, 2).getByText('no pick').waitFor();
  await expect.poll(() => markers(page).count()).toBe(count - 1);
  await rowOf(page, 2).getByRole('button', { name: /^Add/ }).click();
  await page.getByText('click mode 3 in plane').waitFor();
  await page.mouse.click(place!.x + place!.width / 2 + 2, place!.y + place!.height / 2);
  await rowOf(page, 2).getByText('by analyst').waitFor();
  await page.getByRole('list', { name: 'Refused peaks' }).waitFor({ state: 'detached' });
  expect(Math.abs(Number(await frequencyOf(page, 2).inputValue()) - hz)).toBeLessThan(0.02 * hz);
  await rowOf(page, 2)
    .getByRole('button', { name: /^Leave/ })
    .click();
  await rowOf(page, 2).getByText('proposed').waitFor();
});

test('drags a pick in the spectrum: one drag is one step back', async () => {
  const page = await openBench();
  const hz = Number(await frequencyOf(page, 2).inputValue());
  const head = await markers(page).nth(2).locator('svg').boundingBox();
  const [x, y] = [head!.x + head!.width / 2, head!.y + head!.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 20, y);
  await page.mouse.move(x + 45, y, { steps: 4 });
  await page.mouse.up();
  await rowOf(page, 2)
    .getByText(/by analyst|set at/)
    .waitFor();
  expect(Number(await markers(page).nth(2).getAttribute('aria-valuenow'))).toBeGreaterThan(hz + 1);
  await page.getByRole('button', { name: /^Undo: / }).click();
  await rowOf(page, 2).getByText('proposed').waitFor();
  expect(Number(await frequencyOf(page, 2).inputValue())).toBe(hz);
});

test('gives a pick another number, by the list and by a digit', async () => {
  const page = await openBench();
  const hz = await frequencyOf(page, 2).inputValue();
  const fourth = await frequencyOf(page, 3).inputValue();
  await rowOf(page, 2).getByRole('combobox').selectOption('4');
  await rowOf(page, 3).getByText('by analyst').waitFor();
  expect(await frequencyOf(page, 3).inputValue()).toBe(hz);
  expect(await frequencyOf(page, 2).inputValue()).toBe(fourth);
  await page
    .getByRole('slider', { name: /^Mode 4/ })
    .first()
    .focus();
  await page.keyboard.press('3');
  await page
    .getByRole('slider', { name: /^Mode 3/ })
    .first()
    .waitFor();
  expect(await frequencyOf(page, 2).inputValue()).toBe(hz);
});

test('chooses recording, strike, kind of spectrum and range; every plot has a table of its data', async () => {
  const page = await openBench();
  await page.getByRole('combobox', { name: 'Recording' }).selectOption({ index: 1 });
  await page.getByRole('img', { name: /hand\.wav/ }).waitFor();
  await page.getByRole('button', { name: 'whole recording' }).click();
  await page.getByRole('combobox', { name: 'Kind of spectrum' }).selectOption('psd');
  await page.getByRole('combobox', { name: 'Vertical axis' }).selectOption('linear');
  await page.getByRole('textbox', { name: 'Time to', exact: true }).fill('5');
  await page.keyboard.press('Enter');
  expect(await page.getByRole('textbox', { name: 'Time to', exact: true }).inputValue()).toBe('5.00');
  for (const [title, word] of [
    ['recording', 'Strikes of'],
    ['spectrum', 'Peaks of the spectrum'],
    ['stem against root', 'Stem and root: estimate'],
    ['capacity against requirement', 'Capacity and requirement at ground line'],
  ] as const) {
    await page.getByRole('button', { name: `Show ${title} as table` }).click();
    await page.getByRole('table', { name: word }).waitFor();
    await page.getByRole('button', { name: `Show ${title} as plot` }).click();
  }
});

test('a zoom by dragging over the waveform zooms the time fields too', async () => {
  const page = await openBench();
  const box = (await page.getByRole('img', { name: /^Waveform/ }).boundingBox())!;
  await page.mouse.move(box.x + box.width * 0.3, box.y + 45);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width * 0.5, box.y + 45, { steps: 6 });
  await page.mouse.up();
  const from = page.getByRole('textbox', { name: 'Time from', exact: true });
  await expect.poll(async () => Number(await from.inputValue())).toBeGreaterThan(1);
  await page.getByRole('button', { name: 'Show all of time' }).click();
  expect(await from.inputValue()).toBe('0.00');
});

async function openOrders(page: Page): Promise<void> {
  await page.getByRole('combobox', { name: 'Kind of spectrum' }).selectOption('model orders');
  await page.getByRole('listbox').first().waitFor();
}

test('picks a pole that holds over model orders by keyboard, under the number that is free', async () => {
  const page = await openBench();
  const hz = Number(await frequencyOf(page, 2).inputValue());
  await rowOf(page, 2)
    .getByRole('button', { name: /^Refuse/ })
    .click();
  await openOrders(page);
  expect(await page.getByRole('img', { name: /^Poles by frequency and model order/ }).isVisible()).toBe(true);
  const poles = page.getByRole('listbox', { name: /^Poles that hold/ }).first();
  await poles.focus();
  const active = async () => page.locator(`[id="${await poles.getAttribute('aria-activedescendant')}"]`);
  const first = (await (await active()).getAttribute('aria-label'))!;
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('ArrowRight');
  const third = (await (await active()).getAttribute('aria-label'))!;
  expect(Number.parseFloat(third)).toBeGreaterThan(Number.parseFloat(first));
  expect(third).toMatch(/damping [\d.]+ %.*, \d+ orders$/);
  await page.getByText('Enter: mode 3').waitFor();
  await page.keyboard.press('a');
  await rowOf(page, 2).getByText('by analyst').waitFor();
  expect(Math.abs(Number(await frequencyOf(page, 2).inputValue()) - hz)).toBeLessThan(0.01 * hz);
  await page.keyboard.press('Control+z');
  await rowOf(page, 2).getByText('no pick').waitFor();
});

test('picks a pole by a click under the number that is chosen, and tells all of them in a table', async () => {
  const page = await openBench();
  const hz = Number(await frequencyOf(page, 2).inputValue());
  await openOrders(page);
  await page.getByRole('combobox', { name: 'Pick as' }).selectOption('mode 4');
  const line = page.getByRole('listbox').first().getByRole('option').nth(2);
  const box = (await line.boundingBox())!;
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
  await rowOf(page, 3).getByText('by analyst').waitFor();
  expect(Math.abs(Number(await frequencyOf(page, 3).inputValue()) - hz)).toBeLessThan(0.01 * hz);
  await page.getByRole('button', { name: /^Undo: / }).click();
  await rowOf(page, 3).getByText('proposed').waitFor();
  await page.getByRole('button', { name: 'Show model orders as table' }).click();
  const table = page.getByRole('table', { name: 'Poles that hold from model order to model order' });
  expect(await table.getByRole('row').count()).toBeGreaterThan(6);
  expect(await readText(table)).toContain('mode 3, proposed');
});

test('changes the pole in thought by keys, typing and dragging, and stores nothing', async () => {
  const page = await openBench();
  const fitted = await readModulus(page);
  await page.getByRole('button', { name: 'What if' }).click();
  const strip = page.getByRole('region', { name: 'In thought, not stored' });
  const table = strip.getByRole('table', { name: 'Frequencies as fitted and in thought' });
  // on the smallest screen too the point has room to be dragged in
  const picture = await page.getByRole('img', { name: /^Stem against root/ }).boundingBox();
  expect(picture!.width).toBeGreaterThan(400);
  const readFirstMode = async () => {
    await table.and(page.locator('[aria-busy="false"]')).waitFor();
    const [before, after] = (await readText(table.getByRole('cell').first())).split('→').map(Number);
    return { before: before!, after: after! };
  };
  await strip.getByRole('textbox', { name: 'E in thought, GPa' }).fill('4');
  await page.keyboard.press('Enter');
  const softer = await readFirstMode();
  await strip.getByRole('textbox', { name: 'E in thought, GPa' }).fill('0.05');
  await page.keyboard.press('Enter');
  await strip.getByText('type a number from 0.1 to 1000 GPa').waitFor();
  expect(await strip.getByText('Code:').count()).toBe(0);
  await page.keyboard.press('Escape');
  expect(softer.after).toBeLessThan(softer.before);

  const handle = page.getByRole('slider', { name: 'Stem and root in thought' });
  await handle.focus();
  const before = await handle.getAttribute('aria-valuetext');
  await page.keyboard.press('Shift+ArrowUp');
  await page.keyboard.press('ArrowRight');
  const after = await handle.getAttribute('aria-valuetext');
  expect(before).toMatch(/^E 4\.00 GPa/);
  expect(after).toMatch(/^E 4\.10 GPa/);
  expect((await readFirstMode()).after).toBeGreaterThan(softer.after);

  const box = (await handle.boundingBox())!;
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x + 40, y, { steps: 4 });
  await page.mouse.up();
  const stem = strip.getByRole('textbox', { name: 'E in thought, GPa' });
  await expect.poll(async () => Number(await stem.inputValue())).toBeGreaterThan(4.1);

  expect(await readModulus(page)).toBe(fitted);
  expect(await page.getByText('assessed, stored').isVisible()).toBe(true);
  await page.getByRole('button', { name: 'Undo: the pole in thought' }).waitFor();
  await page.getByRole('button', { name: 'Back to the fit' }).click();
  await strip.waitFor({ state: 'hidden' });
  expect(await handle.count()).toBe(0);
});

test('a mass added in thought counts once its height is typed, and lowers the first mode', async () => {
  const page = await openBench();
  await page.getByRole('button', { name: 'What if' }).click();
  const strip = page.getByRole('region', { name: 'In thought, not stored' });
  await strip.getByRole('textbox', { name: 'Added mass, kg' }).fill('80');
  await page.keyboard.press('Enter');
  await strip.getByText('Type the height of the mass').waitFor();
  await strip.getByRole('textbox', { name: 'Height of the added mass, m' }).fill('7');
  await page.keyboard.press('Enter');
  await strip.getByText('Type the height of the mass').waitFor({ state: 'hidden' });
  const cell = strip.getByRole('table').getByRole('cell').first();
  await expect
    .poll(async () => {
      const [before, after] = (await readText(cell)).split('→').map(Number);
      return after! / before!;
    })
    .toBeLessThan(0.95);
});

test('shows strikes combined, a density by tapers and a logarithmic spectrogram', async () => {
  const page = await openBench();
  await page.getByRole('button', { name: 'combined' }).click();
  await page.getByRole('combobox', { name: 'Kind of spectrum' }).selectOption('multitaper');
  await page.getByText('(m/s²)²/Hz').first().waitFor();
  await page.getByRole('combobox', { name: 'Frequency axis of the spectrogram' }).selectOption('log');
  await page.getByRole('img', { name: /^Spectrum of the strikes combined/ }).waitFor();
  expect(await page.getByRole('alert').count()).toBe(0);
});

test('says of each strike what its checks found', async () => {
  const page = await openBench('KV-0401');
  await page.getByText('Result withheld.').waitFor();
  await page.getByRole('tab', { name: /^Strikes/ }).click();
  const notes = page.getByRole('tabpanel');
  await notes.getByText('repeat').first().waitFor();
  expect(await readText(notes)).toMatch(/Measured [\d.]+/);
  expect(await page.getByText('No picture: stem and root were not fitted.').isVisible()).toBe(true);
});

test('tries a visit that was never assessed, and stores it when told', async () => {
  const page = await openBench('KV-0102');
  await page.getByText('assessed, not stored').waitFor();
  await readModulus(page);
  await frequencyOf(page, 0).fill('1.52');
  await page.keyboard.press('Enter');
  expect(await page.getByRole('button', { name: 'Report' }).isDisabled()).toBe(true);
  await page.getByTitle('Store first: a report shows what is stored').first().waitFor();
  await page.getByRole('button', { name: 'Assess and store' }).click();
  await page.getByText('assessed, stored').waitFor();
  await page.getByText('store first', { exact: true }).waitFor({ state: 'hidden' });
  expect(await page.getByRole('button', { name: 'Report' }).isEnabled()).toBe(true);
  await page.reload();
  await page.getByText('assessed, stored').waitFor();
  await rowOf(page, 0)
    .getByText(/by analyst|set at 1\.520/)
    .waitFor();
});

/** Another note, the years, and the rulings again. */
async function leaveAndComeBack(page: Page): Promise<void> {
  await page.getByRole('tab', { name: /^Findings/ }).click();
  await page.getByRole('button', { name: 'Years' }).click();
  await page.getByRole('button', { name: 'Years' }).click();
  await page.getByRole('tab', { name: /^Rulings/ }).click();
}

test('keeps what was typed into a form over the bench that was closed by a click beside it', async () => {
  const page = await openBench();
  const open = async () => {
    await page.getByRole('tab', { name: 'Model and priors' }).click();
    await page.getByRole('button', { name: /^Set density/ }).click();
  };
  await open();
  await page.getByRole('textbox', { name: 'Reason' }).fill('Cores were weighed.');
  await page.getByRole('textbox', { name: 'from', exact: true }).fill('500');
  await page.getByRole('heading', { name: 'Recording' }).click();
  await page.getByRole('textbox', { name: 'Reason' }).waitFor({ state: 'hidden' });
  await page.getByRole('tab', { name: /^Strikes/ }).click();
  await open();
  expect(await page.getByRole('textbox', { name: 'Reason' }).inputValue()).toBe('Cores were weighed.');
  expect(await page.getByRole('textbox', { name: 'from', exact: true }).inputValue()).toBe('500');
});

test('saves a ruling with its reason, which waits while other things are looked at, lists it, and shows it in the register', async () => {
  const page = await openBench('KV-0502');
  await page.getByRole('tab', { name: /^Rulings/ }).click();
  await page.getByRole('button', { name: 'Save ruling' }).click();
  await page.getByText('Give the reason').waitFor();
  await page.getByRole('combobox', { name: 'Decision' }).selectOption('excavate and bore');
  await page.getByRole('textbox', { name: 'Analyst' }).fill('A. Nalyst');
  await page.getByRole('textbox', { name: 'Reason' }).fill('Thin shell at ground line.');
  await leaveAndComeBack(page);
  expect(await page.getByRole('textbox', { name: 'Reason' }).inputValue()).toBe('Thin shell at ground line.');
  expect(await page.getByRole('combobox', { name: 'Decision' }).inputValue()).not.toBe('');
  await page.reload();
  await page.getByRole('tab', { name: /^Rulings/ }).click();
  await expect
    .poll(() => page.getByRole('textbox', { name: 'Reason' }).inputValue())
    .toBe('Thin shell at ground line.');
  await page.getByRole('button', { name: 'Save ruling' }).click();
  const list = page.getByRole('list', { name: 'Rulings on this visit' });
  await list.getByText('Thin shell at ground line.').waitFor();
  expect(await readText(list)).toContain('A. Nalyst');
  await list.getByText('on the result shown').waitFor();
  await leaveAndComeBack(page);
  const takeBack = page.getByRole('button', { name: /^Take back/ });
  await page.getByRole('textbox', { name: 'Analyst' }).fill(' ');
  await page.getByText('Say under Analyst who takes it back.').waitFor();
  expect(await takeBack.isDisabled()).toBe(true);
  await page.getByRole('textbox', { name: 'Analyst' }).fill('A. Nalyst');
  expect(await takeBack.isEnabled()).toBe(true);
  expect(await page.getByRole('textbox', { name: 'Reason' }).inputValue()).toBe('');
  await page.getByRole('button', { name: 'Register' }).click();
  await page
    .getByRole('row', { name: /KV-0502/ })
    .getByText('excavate and bore')
    .waitFor();
});

test('hands out the report as a file, printed too', async () => {
  const page = await openBench();
  await page.getByRole('button', { name: 'Report' }).click();
  const dialog = page.getByRole('dialog', { name: 'Report' });
  const make = async () => {
    const waiting = page.waitForEvent('download');
    await dialog.getByRole('button', { name: 'Make the file' }).click();
    return waiting;
  };
  const html = await make();
  expect(html.suggestedFilename()).toMatch(/KV-0101.*\.html$/);
  expect(readFileSync(await html.path(), 'utf8')).toContain('KV-0101');
  await dialog.getByRole('radio', { name: /^PDF/ }).check();
  const pdf = await make();
  expect(pdf.suggestedFilename()).toMatch(/KV-0101.*\.pdf$/);
  expect(readFileSync(await pdf.path()).toString('latin1', 0, 5)).toBe('%PDF-');
  await dialog.getByText('1 visit.').waitFor();
});
