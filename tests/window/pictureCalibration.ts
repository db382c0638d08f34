import { join } from 'node:path';
import type { Page } from 'playwright';
import { createWorkspaceService, openStore } from '../../core/workspace/index.ts';
import { makeBreakTests } from '../../samples/breakTests.ts';

/** Keeps the invented series in a workspace, publishes a relation and recomputes under it, so that every view has something to show. */
export async function fillCalibration(workspace: string): Promise<void> {
  const store = openStore(workspace);
  const handlers = createWorkspaceService(store);
  const file = { fileName: 'break-tests.csv', base64: Buffer.from(makeBreakTests()).toString('base64') };
  const { mapping } = await handlers['calibration.readTests'](file);
  await handlers['calibration.keepTests']({ ...file, mapping });
  const { calibrationId } = await handlers['calibration.publish']({
    candidate: {
      name: 'stiffness',
      spec: {
        response: 'groundlineStress',
        form: 'log-linear',
        predictors: ['modulus'],
        species: 'none',
        treatment: 'none',
        estimator: 'ordinary',
        modulusError: 'ignored',
      },
    },
    leftOut: [],
    name: 'kelvermoor',
    author: 'E. Engineer',
    note: 'The invented series of 60 poles.',
    despite: 'A picture of the place; its arms are invented too.',
  });
  await handlers['calibration.recompute']({ calibrationId, askedBy: 'E. Engineer' });
  while ((await handlers['calibration.recomputeProgress']({})).state === 'running') {
    await new Promise((resolve) => setImmediate(resolve));
  }
  await store.close();
}

/** Pictures of the calibration place: relations with points chosen, the threshold, what a line asks, versions with differences. */
export async function pictureCalibration(page: Page, folder: string, ending: string): Promise<void> {
  const openView = (name: string) =>
    page
      .getByRole('navigation', { name: 'Parts of the calibration place' })
      .getByRole('button', { name })
      .click();
  const shoot = async (view: string) => {
    await page.waitForLoadState('networkidle');
    await page.screenshot({ path: join(folder, `calibration-${view}-${ending}`) });
  };
  await page.getByRole('button', { name: 'Calibration' }).click();
  await openView('Relations');
  await page
    .getByRole('img', { name: /^Error on poles not seen/ })
    .locator('.main-svg')
    .first()
    .waitFor();
  const points = page.getByRole('listbox', { name: 'Tests in residuals' });
  await points.focus();
  for (const key of ['Home', 'Space', 'Shift+ArrowRight', 'Shift+ArrowRight']) await page.keyboard.press(key);
  await shoot('relations');
  await openView('Threshold');
  await page.getByRole('slider', { name: 'Threshold' }).waitFor();
  await page
    .getByRole('region', { name: 'Worth a second visit' })
    .getByText(/, in force$/)
    .waitFor();
  await shoot('threshold');
  await openView('Requirement');
  await page.getByRole('combobox', { name: 'Wind' }).selectOption({ index: 1 });
  await page.getByRole('button', { name: 'Add a conductor' }).click();
  await shoot('requirement');
  await openView('Versions');
  await page.getByRole('region', { name: 'Differences' }).getByRole('row').nth(1).waitFor();
  await shoot('versions');
}
