import { afterAll, afterEach, beforeAll, expect, inject, test } from 'vitest';
import { type OpenedWindow, openWindow, readText } from './openWindow.ts';

let opened: OpenedWindow;
beforeAll(async () => {
  opened = await openWindow(inject('browser'), inject('workspace'));
});
afterAll(() => opened.close());
afterEach(() => expect(opened.complaints.splice(0)).toEqual([]));

test('lists every visit, with verdict, figures and ruling in words, those that wait for a person first', async () => {
  const page = await opened.open();
  const rows = page.getByRole('row');
  await rows.nth(5).waitFor();
  await expect.poll(() => rows.count()).toBe(6);
  const words = await readText(rows.nth(1));
  expect(words).toContain('KV-0401');
  expect(words).toMatch(/result withheld: none of the \d strikes can be used; \d of \d blows faulty/);
  // the list is in their order, so none of the reasons is cut here
  const cut = await page
    .locator('.two-lines')
    .evaluateAll((all) =>
      all
        .filter(({ scrollHeight, clientHeight }) => scrollHeight > clientHeight + 1)
        .map((one) => one.textContent),
    );
  expect(cut).toEqual([]);
  const plain = await readText(page.getByRole('row', { name: /KV-0101/ }));
  await page.getByRole('columnheader', { name: /^Capacity if sound/ }).waitFor();
  const figures = await page
    .locator('td.is-number')
    .evaluateAll((all) => all.filter(({ scrollWidth, clientWidth }) => scrollWidth > clientWidth).length);
  expect(figures).toBe(0);
  expect(plain).toContain('not inspected');
  expect(plain).toMatch(/\d+ \(\d+ to \d+\)/);
  expect(plain).toMatch(/\d+ %/);
  expect(await readText(page.getByRole('row', { name: /KV-0102/ }))).toContain('not assessed');
  expect(await page.getByText('An estimate is not a clearance to climb.').isVisible()).toBe(true);
  expect(page.url()).not.toContain('token');
});

test('finds visits by the words of a search, and says how many are left', async () => {
  const page = await opened.open();
  await page.getByRole('textbox', { name: 'Search the register' }).fill('withheld faulty');
  await page.getByText('1 of 5 visits').waitFor();
  await expect.poll(() => page.getByRole('row').count()).toBe(2);
  await page.getByRole('textbox', { name: 'Search the register' }).fill('no such pole');
  await page.getByRole('button', { name: 'Show all visits' }).click();
  await page.getByText('5 visits', { exact: true }).waitFor();
});

test('sorts by a column, and back', async () => {
  const page = await opened.open();
  await page.getByRole('button', { name: 'Pole', exact: true }).click();
  await expect.poll(() => readText(page.getByRole('row').nth(1))).toContain('KV-0101');
  await page.getByRole('button', { name: 'Pole', exact: true }).click();
  await expect.poll(() => readText(page.getByRole('row').nth(1))).toContain('KV-0502');
});

test('is walked by arrow keys, and Enter opens a visit; going back returns to the register', async () => {
  const page = await opened.open();
  await page.getByRole('button', { name: 'Pole', exact: true }).click();
  await page.getByRole('group', { name: /^Visits/ }).focus();
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('End');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'KV-0502', level: 1 }).waitFor();
  await page.goBack();
  await page.getByRole('heading', { name: 'Register', level: 1 }).waitFor();
  await page.locator('.is-current').getByText('KV-0502').waitFor();
  expect(await page.locator('.register-scroll:focus').count()).toBe(1);
  // so after a visit that was opened by a click
  await page.getByRole('row', { name: /KV-0401/ }).click();
  await page.getByRole('heading', { name: 'KV-0401', level: 1 }).waitFor();
  await page.keyboard.press('Alt+1');
  await page.locator('.is-current').getByText('KV-0401').waitFor();
  await page.keyboard.press('End');
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'KV-0502', level: 1 }).waitFor();
  await page.goBack();
  await page.getByRole('heading', { name: 'Register', level: 1 }).waitFor();
  // and its tab leads back to the visit
  await page.getByRole('navigation', { name: 'Places' }).getByRole('button', { name: 'Bench' }).click();
  await page.getByRole('heading', { name: 'KV-0502', level: 1 }).waitFor();
});

test('reads the recordings of the visit that the pointer rests on, or that the keys have reached, before it is opened', async () => {
  const page = await opened.open();
  await page.getByRole('row').nth(5).waitFor();
  const readNext = async () => {
    const request = await page.waitForRequest(/visit\.recordings$/);
    return (request.postDataJSON() as { visitId: number }).visitId;
  };
  const pointed = readNext();
  await page.getByRole('row', { name: /KV-0101/ }).hover();
  const pointedId = await pointed;
  await page.getByRole('group', { name: /^Visits/ }).focus();
  const walked = readNext();
  await page.keyboard.press('End');
  const walkedId = await walked;
  expect(walkedId).not.toBe(pointedId);
  expect(await page.getByRole('heading', { name: 'Register', level: 1 }).isVisible()).toBe(true);
  await page.keyboard.press('Enter');
  await page.waitForURL(`**#visit=${walkedId}`);
});
