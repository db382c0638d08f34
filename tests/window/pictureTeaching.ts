import { join } from 'node:path';
import type { Page } from 'playwright';

/** Pictures of the classroom: two blows side by side, a lesson that is changed, a quiz under way. */
export async function pictureClassroom(page: Page, folder: string, ending: string): Promise<void> {
  await page.getByRole('button', { name: 'Classroom' }).click();
  await drawn(page, /^Spectrogram of the blow at the right/);
  await page.getByRole('button', { name: 'Right: A hammer that bounced' }).click();
  await page.getByRole('button', { name: 'Show where: Double blow' }).click();
  await drawn(page, /^Waveform of the blow at the right. Marked: second impact/);
  await page.waitForLoadState('networkidle');
  await page.screenshot({ path: join(folder, `classroom-${ending}`) });

  await page.getByRole('tab', { name: 'Lessons' }).click();
  await page.getByRole('button', { name: 'Make a copy to change' }).click();
  await page.getByText(/\d+ blows in 41 visits/).waitFor();
  await page.screenshot({ path: join(folder, `lesson-${ending}`) });
  await page.getByRole('button', { name: 'Give up the changes' }).click();

  await page.getByRole('tab', { name: 'Quiz' }).click();
  await page.getByRole('textbox', { name: 'Your name' }).fill('R. Ashgrove');
  await page.keyboard.press('Enter');
  await drawn(page, /^Spectrogram of blow 1/);
  await page.getByRole('checkbox', { name: 'Double blow' }).check();
  await page.waitForLoadState('networkidle');
  await page.screenshot({ path: join(folder, `quiz-${ending}`) });
  await page.getByRole('button', { name: 'Give up' }).click();
  await page.getByRole('button', { name: 'Give them up' }).click();
}

/** Pictures of a visit that is written down, with a doubt and with something wrong. @param recordings - to attach */
export async function pictureForm(
  page: Page,
  folder: string,
  ending: string,
  recordings: readonly string[],
): Promise<void> {
  const field = (name: string) => page.getByRole('textbox', { name, exact: true });
  await page.getByRole('button', { name: 'New visit' }).click();
  await page.getByRole('button', { name: 'Begin', exact: true }).click();
  await page.getByText('ft, in, lb').click();
  await field('Number (needed)').fill('KV-9001');
  await page.getByRole('combobox', { name: 'Species (needed)' }).selectOption('southern-pine');
  await field('Class').fill('4');
  await field('Length (needed)').fill('35');
  await page.getByLabel('Date (needed)').fill('2026-05-03');
  await field('Butt to tag').fill("10'");
  await field('Tag above ground').fill('4 ft 6 in');
  await field('Circumference (needed)').fill('10.7');
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Attach recordings' }).click();
  await (await choosing).setFiles([...recordings]);
  await page.getByText('Is this the diameter?').first().waitFor();
  await page
    .getByText(/2 channels/)
    .last()
    .waitFor();
  await field('Number (needed)').focus();
  await page.screenshot({ path: join(folder, `new-visit-${ending}`) });
  await page.getByRole('button', { name: 'Give it up' }).click();
  await page.getByRole('button', { name: 'Give up', exact: true }).click();
}

function drawn(page: Page, name: RegExp): Promise<void> {
  return page.getByRole('img', { name }).locator('.main-svg').first().waitFor();
}
