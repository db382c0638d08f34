import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import FFT from 'fft.js';
import type { Download, Page } from 'playwright';
import { afterAll, afterEach, beforeAll, describe, expect, inject, test } from 'vitest';
import { findViolations } from './findViolations.ts';
import { makeWorkspace } from './makeWorkspace.ts';
import { type OpenedWindow, openWindow, readText } from './openWindow.ts';

/** Good blows, and clipping, a bounce and hum beside good ones: visits of the lesson that comes with the program. */
const POLES = ['KV-0101', 'KV-0109', 'KV-0110', 'KV-0112'];
/** No blow of that lesson is of this one. */
const POLES_WITHOUT_LESSON = ['KV-0106'];

let opened: OpenedWindow;
beforeAll(async () => {
  opened = await openWindow(inject('browser'), null);
});
afterAll(() => opened.close());
afterEach(() => expect(opened.complaints.splice(0)).toEqual([]));

async function openClassroom(options: Parameters<OpenedWindow['open']>[0] = {}): Promise<Page> {
  const page = await opened.open(options);
  await page.getByRole('button', { name: 'Classroom' }).click();
  return page;
}

async function openSection(page: Page, name: string): Promise<void> {
  await page.getByRole('tab', { name }).click();
}

async function download(page: Page, press: () => Promise<void>): Promise<{ name: string; text: string }> {
  const waiting = page.waitForEvent('download');
  await press();
  const file: Download = await waiting;
  return { name: file.suggestedFilename(), text: readFileSync(await file.path(), 'utf8') };
}

const drawn = (page: Page, name: RegExp) =>
  page.getByRole('img', { name }).locator('.main-svg').first().waitFor();

test('an empty workspace has nothing to teach with, and says what to bring', async () => {
  const page = await openClassroom();
  await page.getByRole('heading', { name: 'Nothing to teach with yet' }).waitFor();
  expect(await page.getByText('good ones and faulty ones both teach').isVisible()).toBe(true);
  await page.getByRole('main').getByRole('button', { name: 'Bring in visits' }).click();
  await page.getByRole('button', { name: 'Choose files' }).waitFor();
});

test('a workspace of visits without a lesson leads to making one', async () => {
  const other = await openWindow(inject('browser'), null, (path) =>
    makeWorkspace(path, inject('samples'), POLES_WITHOUT_LESSON, POLES_WITHOUT_LESSON),
  );
  const page = await other.open();
  await page.getByRole('button', { name: 'Classroom' }).click();
  await page.getByRole('button', { name: 'Make a lesson' }).click();
  await page.getByRole('button', { name: 'Propose a lesson' }).waitFor();
  expect(other.complaints).toEqual([]);
  await other.close();
});

test('recordings brought in make the lesson of the program one to look at: two blows, one time, the fault marked', async () => {
  const page = await opened.open();
  await page.getByRole('banner').getByRole('button', { name: 'Bring in visits' }).click();
  const samples = inject('samples');
  const files = readdirSync(samples).filter((name) => POLES.some((pole) => name.startsWith(pole)));
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Choose files' }).click();
  await (await choosing).setFiles(files.map((name) => join(samples, name)));
  await page.getByText('4 brought in, 0 already there, 0 failed.').waitFor();
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Classroom' }).click();
  await drawn(page, /^Spectrogram of the blow at the left/);
  await drawn(page, /^Waveform of the blow at the right. Marked: cut off here/);
  const spectrum = page.getByRole('img', { name: /^Spectrum of the blow at the left/ });
  await spectrum.getByText('60 Hz', { exact: true }).waitFor();
  const right = page.getByRole('region', { name: 'the blow at the right', exact: true });
  expect(await readText(right)).toContain('Lower the gain or take a sensor of wider range');
  expect(await readText(right)).toContain('Stated by the maker of the lesson: Clipping.');
  expect(await page.getByText('is not in this workspace').count()).toBeGreaterThan(0);

  // a flat top is told from near, in the waveform alone; another blow brings all pictures back
  await right.getByRole('button', { name: 'Show where: Clipping' }).click();
  const shown = page.getByRole('checkbox', { name: 'spectrogram', exact: true });
  await expect.poll(() => shown.isChecked()).toBe(false);
  await drawn(page, /^Waveform of the blow at the right. Marked: cut off here/);
  await page.getByRole('button', { name: 'Right: A hammer that bounced' }).focus();
  await page.keyboard.press('Enter');
  await drawn(page, /^Waveform of the blow at the right. Marked: second impact, \d+ ms after the first/);
  expect(await shown.isChecked()).toBe(true);
  await right.getByRole('button', { name: 'Show where: Double blow' }).click();
  const timeTo = page.getByRole('textbox', { name: 'Time to', exact: true });
  await expect.poll(async () => Number(await timeTo.inputValue())).toBeLessThan(0.5);
  // another blow brings back what was shown before
  await page.getByRole('button', { name: 'Right: Clipping' }).click();
  await expect.poll(() => timeTo.inputValue()).toBe('3.00');
  await page.getByRole('checkbox', { name: 'mark faults' }).uncheck();
  await drawn(page, /^Waveform of the blow at the right\.$/);
});

test('both blows share one cursor, each picture has its table, and pictures can be chosen', async () => {
  const page = await openClassroom();
  await drawn(page, /^Waveform of the blow at the right/);
  const box = (await page.getByRole('img', { name: /^Waveform of the blow at the left/ }).boundingBox())!;
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  const places = page.locator('.cursor-words');
  // waveform and spectrogram of both blows
  await expect.poll(() => places.count()).toBe(4);
  expect(new Set(await places.allTextContents()).size).toBe(1);
  const left = page.getByRole('region', { name: 'the blow at the left', exact: true });
  for (const [picture, caption] of [
    ['waveform', 'Waveform of the blow at the left'],
    ['spectrum', 'Highest peaks of the spectrum'],
    ['spectrogram', 'where it is loudest'],
  ] as const) {
    await left.getByRole('button', { name: `Show ${picture}, left as table` }).click();
    await left.getByRole('table', { name: caption }).waitFor();
  }
  await page.getByRole('checkbox', { name: 'spectrum', exact: true }).uncheck();
  await page.getByRole('checkbox', { name: 'waveform', exact: true }).uncheck();
  await page.getByRole('checkbox', { name: 'spectrogram', exact: true }).click();
  // one picture at least stays
  expect(await page.getByRole('checkbox', { name: 'spectrogram', exact: true }).isChecked()).toBe(true);
});

/** What the page handed to the loudspeakers, rendered by the browser's own engine at the rate of a usual one. */
type Heard = { rateHz: number; seconds: number; samples: number[] };
const LOUDSPEAKER_HZ = 44_100;

test('a blow is silent until it is played, which switches the sound on; it plays faster, says so, and can be stopped', async () => {
  const page = await openClassroom();
  await page.evaluate((loudspeakerHz) => {
    const scope = window as unknown as { heard: Promise<Heard>[] };
    scope.heard = [];
    const start = AudioBufferSourceNode.prototype.start;
    AudioBufferSourceNode.prototype.start = function (this: AudioBufferSourceNode) {
      const rateHz = this.buffer!.sampleRate * this.playbackRate.value;
      const seconds = this.buffer!.length / rateHz;
      const offline = new OfflineAudioContext(1, Math.ceil((seconds + 0.1) * loudspeakerHz), loudspeakerHz);
      const copy = offline.createBufferSource();
      copy.buffer = this.buffer;
      copy.playbackRate.value = this.playbackRate.value;
      copy.connect(offline.destination);
      start.call(copy);
      const rendering = offline.startRendering();
      scope.heard.push(
        rendering.then((buffer) => ({ rateHz, seconds, samples: [...buffer.getChannelData(0)] })),
      );
      // never ends by itself, so that the test can stop it
      this.loop = true;
      start.call(this);
    };
  }, LOUDSPEAKER_HZ);
  const play = page.getByRole('button', { name: 'Play the blow at the left' });
  await play.waitFor();
  const sound = page.getByRole('switch', { name: 'Sound' });
  expect(await sound.isChecked()).toBe(false);
  await play.click();
  await page.getByText('4 octaves up: 2 to 60 Hz sound as 32 to 960 Hz').waitFor();
  expect(await sound.isChecked()).toBe(true);
  await page.getByRole('button', { name: 'Stop the blow at the left' }).click();
  await play.waitFor();
  const heard = await page.evaluate(() =>
    Promise.all((window as unknown as { heard: Promise<Heard>[] }).heard),
  );
  // 2000 samples a second, 16 times as fast; some 9.5 s of ring-down
  expect(heard.length).toBe(1);
  const [{ rateHz, seconds, samples }] = heard as [Heard];
  expect(rateHz).toBeCloseTo(32_000, 0);
  expect(seconds).toBeGreaterThan(0.4);
  expect(seconds).toBeLessThan(0.7);
  // loud enough and not clipped, without a level of its own, faded out at its end, silent after it
  const end = Math.floor(seconds * LOUDSPEAKER_HZ);
  const loudest = (part: number[]) => part.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  expect(loudest(samples)).toBeGreaterThan(0.7);
  expect(loudest(samples)).toBeLessThan(0.95);
  expect(Math.abs(samples.reduce((sum, value) => sum + value, 0) / samples.length)).toBeLessThan(0.01);
  expect(loudest(samples.slice(end - 44, end))).toBeLessThan(0.02);
  expect(loudest(samples.slice(end + 44))).toBe(0);
  // modes 2 and 3 of the invented pole, as its maker knows them, four octaves up
  for (const [mode, fromHz, toHz] of [
    [2, 80, 250],
    [3, 250, 560],
  ] as const) {
    const expectedHz = 16 * frequencyOf('KV-0101', mode);
    expect(Math.abs(findLoudest(samples, fromHz, toHz) / expectedHz - 1)).toBeLessThan(0.02);
  }
});

/** The frequency of a mode of an invented pole, by the file that the recordings were made from. */
function frequencyOf(poleId: string, mode: number): number {
  const truth = JSON.parse(readFileSync(join(inject('samples'), '..', 'truth.json'), 'utf8')) as {
    visits: { poleId: string; planes: { modes: { number: number; frequencyHz: number }[] }[] }[];
  };
  const [plane] = truth.visits.find((visit) => visit.poleId === poleId)!.planes;
  return plane!.modes.find(({ number }) => number === mode)!.frequencyHz;
}

/** Where a rendered sound is loudest within a range, by fft.js, to about a hertz. */
function findLoudest(samples: readonly number[], fromHz: number, toHz: number): number {
  const size = 65_536;
  const transform = new FFT(size);
  const padded = Array.from({ length: size }, (_, i) => samples[i] ?? 0);
  const spectrum = transform.createComplexArray();
  transform.realTransform(spectrum, padded);
  const binHz = LOUDSPEAKER_HZ / size;
  let loudest = Math.ceil(fromHz / binHz);
  const level = (bin: number) => Math.hypot(spectrum[2 * bin]!, spectrum[2 * bin + 1]!);
  for (let bin = loudest; bin <= toHz / binHz; bin++) if (level(bin) > level(loudest)) loudest = bin;
  return loudest * binHz;
}

test('a lesson is proposed, changed by keyboard, kept over a reload, and printed', async () => {
  const page = await openClassroom();
  await openSection(page, 'Lessons');
  await page.getByRole('button', { name: 'Propose a lesson' }).click();
  await page.getByRole('textbox', { name: 'Title', exact: true }).fill('Second hour');
  const list = page.getByRole('list', { name: 'Blows of this lesson' });
  const title = (number: number) => page.getByRole('textbox', { name: `Title of blow ${number}` });
  expect(await title(1).inputValue()).toBe('A good blow by hammer');
  await page.getByRole('button', { name: 'Move blow 1 down' }).focus();
  await page.keyboard.press('Enter');
  await page.keyboard.press('Enter');
  expect(await title(3).inputValue()).toBe('A good blow by hammer');
  await page.getByRole('textbox', { name: 'Note on blow 1' }).fill('Strike so that it rings.\nNo more.');
  const truth = list.getByText('Truth: not stated').first();
  await truth.focus();
  await page.keyboard.press('Enter');
  await page.getByRole('checkbox', { name: 'I know what is wrong with blow 1' }).press('Space');
  await list.getByText('Truth: nothing wrong').waitFor();
  await page.getByRole('textbox', { name: 'Search blows' }).fill('KV-0112 hand');
  await page.getByText('2 blows in 4 visits.').waitFor();
  const count = await list.getByRole('listitem').count();
  await page
    .getByRole('button', { name: /^Add KV-0112/ })
    .first()
    .click();
  await expect.poll(() => list.getByRole('listitem').count()).toBe(count + 1);
  await page.getByRole('combobox', { name: 'Use of blow 1', exact: true }).selectOption('show and ask');
  // the store asks for a rest before it keeps; a reload loses nothing of what rested
  await page.waitForResponse((response) => response.url().includes('choices.keep'));
  await page.reload();
  await openSection(page, 'Lessons');
  // a blow is looked at before it is taken, and the lesson waits
  await page
    .getByRole('button', { name: /^Look at KV-0112/ })
    .first()
    .click();
  await page
    .getByRole('region', { name: 'the blow at the right', exact: true })
    .getByText('KV-0112')
    .first()
    .waitFor();
  await openSection(page, 'Lessons');
  await page.getByRole('button', { name: 'Keep the lesson' }).click();
  await page.getByRole('heading', { name: 'Second hour' }).waitFor();

  const file = await download(page, () => page.getByRole('button', { name: 'Save as file' }).click());
  expect(file.name).toBe('Second-hour.lesson.json');
  expect(JSON.parse(file.text).blows[0]).toMatchObject({
    note: 'Strike so that it rings.\nNo more.',
    statedFaults: [],
    recordingSha256: expect.stringMatching(/^[0-9a-f]{64}$/),
  });
  const handout = await download(page, () => page.getByRole('button', { name: 'Handout to print' }).click());
  expect(handout.text).toContain('Next time:');
  const sheet = await page.context().newPage();
  await sheet.setContent(handout.text);
  const paper = (await sheet.pdf({ format: 'A4' })).toString('latin1');
  // ISO 32000-2, 7.7.3: one page object a page
  expect(paper.match(/\/Type\s*\/Page\b(?!s)/g)!.length).toBeGreaterThan(2);

  await page.getByRole('button', { name: 'Drop it' }).click();
  await page.getByRole('button', { name: 'Drop', exact: true }).click();
  await page.getByRole('heading', { name: 'First blows' }).waitFor();
  const choosing = page.waitForEvent('filechooser');
  await page.getByRole('button', { name: 'Bring in a lesson file' }).click();
  await (await choosing).setFiles({
    name: file.name,
    mimeType: 'application/json',
    buffer: Buffer.from(file.text),
  });
  await page.getByText('Second hour was brought in.').waitFor();
  await page.getByRole('heading', { name: 'Second hour' }).waitFor();
});

test('a quiz names no blow before it is graded, outlives a reload, and its score is kept and saved', async () => {
  const page = await openClassroom();
  await openSection(page, 'Quiz');
  const option = page.getByRole('option', { name: /Second hour/ });
  await page.getByRole('combobox', { name: 'Lesson' }).selectOption(await option.getAttribute('value'));
  await page.getByRole('textbox', { name: 'Your name' }).fill('=R. Ashgrove');
  await page.keyboard.press('Enter');
  const turns = Number((await readText(page.getByText(/^Blow 1 of \d+/).first())).match(/of (\d+)/)![1]);
  for (let turn = 1; turn <= turns; turn++) {
    await drawn(page, new RegExp(`^Spectrogram of blow ${turn}\\.`));
    const dom = await page.content();
    expect(await page.getByRole('tab', { name: 'Lessons' }).isDisabled()).toBe(true);
    expect(dom).not.toMatch(/KV-0|\.wav|cut off here|second impact|Next time|data-fault/);
    await page.getByRole('checkbox', { name: turn === 1 ? 'Clipping' : 'Nothing is wrong' }).press('Space');
    if (turn === 2) {
      await page.waitForResponse((response) => response.url().includes('choices.keep'));
      await page.reload();
      await openSection(page, 'Quiz');
      await page.getByText(`Blow 2 of ${turns}`).waitFor();
      expect(await page.getByRole('checkbox', { name: 'Nothing is wrong' }).isChecked()).toBe(true);
    }
    if (turn < turns) await page.getByRole('button', { name: 'Next blow' }).press('Enter');
  }
  await page.getByText('All answered.').waitFor();
  await page.getByRole('button', { name: 'Grade' }).click();
  const against = page.getByRole('table', { name: 'Against the checks of the program' });
  await against.waitFor();
  await page.getByRole('table', { name: 'Against what the maker of the lesson states' }).waitFor();
  const blows = page.getByRole('table', { name: 'Blow by blow' }).getByRole('row');
  expect(await blows.count()).toBe(turns + 1);
  expect((await blows.allTextContents()).join('\n')).toMatch(/Missed: .*\n(.*\n)*.*Right: nothing wrong/);

  await openSection(page, 'Scores');
  await page.getByRole('heading', { name: '=R. Ashgrove' }).waitFor();
  const table = await download(page, () => page.getByRole('button', { name: 'Save as table (CSV)' }).click());
  expect(table.name).toBe('quiz-scores.csv');
  expect(table.text.split('\r\n')[1]).toMatch(/^"?'=R\. Ashgrove/);
  await page.getByRole('button', { name: 'Drop these scores of =R. Ashgrove' }).click();
  await page.getByRole('button', { name: 'Drop', exact: true }).click();
  await page.getByText('Nobody has taken a quiz in this workspace yet.').waitFor();
});

describe.each(['light', 'dark'] as const)('in %s colours', (colorScheme) => {
  test('two blows have no violation', async () => {
    const page = await openClassroom({ colorScheme });
    await drawn(page, /^Spectrogram of the blow at the right/);
    await page.getByRole('switch', { name: 'Sound' }).check();
    expect(await findViolations(page)).toEqual([]);
  });

  test('blows of the workspace have no violation', async () => {
    const page = await openClassroom({ colorScheme });
    await page.getByRole('combobox', { name: 'Take blows from' }).selectOption('workspace');
    await page.getByText(/\d+ blows in 4 visits/).waitFor();
    expect(await findViolations(page)).toEqual([]);
  });

  test('lessons have no violation, read or changed', async () => {
    const page = await openClassroom({ colorScheme });
    await openSection(page, 'Lessons');
    await page.getByRole('heading', { name: 'First blows' }).waitFor();
    expect(await findViolations(page)).toEqual([]);
    await page.getByRole('button', { name: 'Make a copy to change' }).click();
    await page.getByText('Truth:').first().click();
    await page.getByText(/\d+ blows in 4 visits/).waitFor();
    expect(await findViolations(page)).toEqual([]);
    await page.getByRole('button', { name: 'Give up the changes' }).click();
  });

  test('a quiz has no violation', async () => {
    const page = await openClassroom({ colorScheme });
    await openSection(page, 'Quiz');
    await page.getByRole('textbox', { name: 'Your name' }).fill('T. Fell');
    expect(await findViolations(page)).toEqual([]);
    await page.getByRole('button', { name: 'Begin' }).click();
    await drawn(page, /^Spectrogram of blow 1/);
    expect(await findViolations(page)).toEqual([]);
    await page.getByRole('button', { name: 'Give up' }).click();
  });
});
