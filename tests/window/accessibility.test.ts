import { afterAll, beforeAll, describe, expect, inject, test } from 'vitest';
import { findViolations, LOOKS, OVERLAY } from './findViolations.ts';
import { type OpenedWindow, openVisit, openWindow } from './openWindow.ts';

let opened: OpenedWindow;
beforeAll(async () => {
  opened = await openWindow(inject('browser'), inject('workspace'));
});
afterAll(() => opened.close());

describe.each(LOOKS)('in $colorScheme colours', ({ colorScheme, viewport }) => {
  test('the register has no violation', async () => {
    const page = await opened.open({ colorScheme });
    await page.getByRole('row').nth(5).waitFor();
    expect(await findViolations(page)).toEqual([]);
    await page.getByRole('button', { name: /^Reason/ }).click();
    await page.getByRole('checkbox', { name: /^near threshold/ }).waitFor();
    expect(await findViolations(page, OVERLAY)).toEqual([]);
    await page.keyboard.press('Escape');
    await page
      .getByRole('checkbox', { name: /^Choose/ })
      .first()
      .check();
    await page.getByRole('button', { name: 'Rule on it' }).click();
    await page.getByRole('dialog', { name: 'Rule on the chosen visits' }).waitFor();
    expect(await findViolations(page, OVERLAY)).toEqual([]);
  });

  test('a pole over the years, the way of a number and the dialog of reports have no violation', async () => {
    const page = await opened.open({ colorScheme });
    await openVisit(page, 'KV-0106');
    await page.getByRole('definition').filter({ hasText: 'GPa' }).first().getByRole('button').click();
    await page.getByRole('dialog', { name: /^Modulus of elasticity/ }).waitFor();
    expect(await findViolations(page, OVERLAY)).toEqual([]);
    await page.keyboard.press('Escape');
    await page.getByRole('tab', { name: 'Model and priors' }).click();
    await page.getByRole('button', { name: 'Set setting depth' }).click();
    await page.getByRole('textbox', { name: 'from', exact: true }).fill('0.1');
    await page.getByRole('button', { name: 'Set for this visit' }).click();
    await page.getByText('type a number from 0.3 to 6 m').waitFor();
    expect(await findViolations(page, OVERLAY)).toEqual([]);
    // as deep as that, what hangs on the pole would hang above its tip: told in the form, and the result stays
    await page.getByRole('textbox', { name: 'from', exact: true }).fill('2.9');
    await page.getByRole('textbox', { name: 'to', exact: true }).fill('3.3');
    await page.getByRole('textbox', { name: 'Reason' }).fill('dug up beside it');
    await page.getByRole('button', { name: 'Set for this visit' }).click();
    await page.getByRole('alert').filter({ hasText: 'is above the tip' }).waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'Years' }).click();
    await page.getByRole('img', { name: /^Pole KV-0106 over/ }).waitFor();
    expect(await findViolations(page)).toEqual([]);
    await page.getByRole('button', { name: 'Report', exact: true }).click();
    await page.getByRole('button', { name: 'Make the file' }).waitFor();
    expect(await findViolations(page, OVERLAY)).toEqual([]);
  });

  test('the bench has no violation, on a small screen or a large one', async () => {
    const page = await opened.open({ colorScheme, viewport });
    await openVisit(page, 'KV-0106');
    await page.getByRole('img', { name: /^Spectrum/ }).waitFor();
    expect(await findViolations(page)).toEqual([]);
    await page.getByRole('combobox', { name: 'Kind of spectrum' }).selectOption('model orders');
    await page.getByRole('listbox').first().focus();
    await page.getByRole('button', { name: 'What if' }).click();
    await page.getByRole('table', { name: 'Frequencies as fitted and in thought' }).waitFor();
    expect(await findViolations(page)).toEqual([]);
  });

  test('the dialog that brings in visits has no violation', async () => {
    const page = await opened.open({ colorScheme });
    await page.getByRole('button', { name: 'Bring in visits' }).click();
    await page.getByRole('button', { name: 'Choose files' }).waitFor();
    expect(await findViolations(page, OVERLAY)).toEqual([]);
  });
});

test('the other colours are one click away', async () => {
  const page = await opened.open({ colorScheme: 'light' });
  await page.getByRole('button', { name: 'Change to dark colours' }).click();
  await page.getByRole('button', { name: 'Change to light colours' }).waitFor();
  expect(opened.complaints.splice(0)).toEqual([]);
});
