import type { Page } from 'playwright';

/** Additions of the reference loop: some ten milliseconds on a machine of its own. */
const REFERENCE_STEPS = 1e7;
const REFERENCE_RUNS = 15;
const DRAG_STEPS = 60;
const PAN_STEPS = 120;
const FRAME_MS = 16;
const SCROLLS = 20;
const WORDS = ['clipping', 'soft root', 'redcedar', 'misfit LR-0', 'one sided', 'rattle pine'];

/** A loop of known work in the page: how long at best, and usually. */
export async function measureReference(page: Page): Promise<{ best: number; median: number }> {
  return page.evaluate(
    ([steps, runs]) => {
      const times: number[] = [];
      for (let run = 0; run < runs!; run++) {
        const start = performance.now();
        let sum = 0;
        for (let i = 0; i < steps!; i++) sum += i % 7;
        times.push(performance.now() - start + (sum < 0 ? 1 : 0));
      }
      times.sort((a, b) => a - b);
      return { best: times[0]!, median: times[times.length >> 1]! };
    },
    [REFERENCE_STEPS, REFERENCE_RUNS] as const,
  );
}

/** What reading the long recording asks of the system anew: its packed bytes twice, unpacked once, and its samples. */
const TOUCHED_BYTES = 45e6;
const PAGE_BYTES = 4096;

/** Memory as much as a long recording takes while it is read, touched for the first time: how long, in ms. */
export function measureTouching(): number {
  const start = performance.now();
  const memory = new Uint8Array(TOUCHED_BYTES);
  for (let at = 0; at < memory.length; at += PAGE_BYTES) memory[at] = 1;
  return performance.now() - start;
}

/** From asking for a visit to all of its pictures drawn, in ms. */
export async function measureOpening(page: Page, visitId: number): Promise<number> {
  return page.evaluate(async (id) => {
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const drawn = () => {
      const plots = [...document.querySelectorAll('.figure-plot')];
      const find = (name: RegExp) => plots.find((plot) => name.test(plot.getAttribute('aria-label') ?? ''));
      const withheld = document.querySelector('.withheld') !== null;
      return (
        location.hash === `#visit=${id}` &&
        document.querySelector('.bench-verdict') !== null &&
        find(/^Waveform/)?.querySelector('.imagelayer image') != null &&
        find(/^Spectrum/)?.querySelector('.scatterlayer path') != null &&
        (withheld || document.querySelector('.stem-root-marks path') !== null)
      );
    };
    history.pushState(null, '', '#');
    dispatchEvent(new PopStateEvent('popstate'));
    // from a register at rest, as a person finds it
    while (document.querySelector('.bench') !== null || document.querySelector('tr[aria-rowindex]') === null)
      await frame();
    await new Promise((resolve) => requestIdleCallback(resolve));
    const start = performance.now();
    history.pushState(null, '', `#visit=${id}`);
    dispatchEvent(new PopStateEvent('popstate'));
    while (!drawn()) {
      if (performance.now() - start > 60_000) throw new Error(`Visit ${id} was not drawn within a minute.`);
      await frame();
    }
    await frame();
    return performance.now() - start;
  }, visitId);
}

/** Time between frames while the waveform, zoomed in, is moved by the pointer, in ms. */
export async function measurePanning(page: Page): Promise<number[]> {
  const to = page.getByRole('textbox', { name: 'Time to', exact: true });
  await to.fill('20');
  await to.press('Enter');
  await page.waitForFunction(() => document.querySelectorAll('.waiting').length === 0);
  const box = (await page.getByRole('img', { name: /^Waveform/ }).boundingBox())!;
  const [x, y] = [box.x + box.width * 0.8, box.y + 40];
  await page.mouse.move(x, y);
  await page.keyboard.down('Shift');
  await page.mouse.down();
  await page.evaluate(() => {
    const counted = globalThis as unknown as { frames: number[]; isCounting: boolean };
    counted.frames = [];
    counted.isCounting = true;
    let last = performance.now();
    const count = (now: number) => {
      counted.frames.push(now - last);
      last = now;
      if (counted.isCounting) requestAnimationFrame(count);
    };
    requestAnimationFrame(count);
  });
  for (let i = 1; i <= PAN_STEPS; i++) {
    await page.mouse.move(x - i * 3, y);
    await page.waitForTimeout(FRAME_MS / 2);
  }
  const frames = await page.evaluate(() => {
    const counted = globalThis as unknown as { frames: number[]; isCounting: boolean };
    counted.isCounting = false;
    return counted.frames.slice(2);
  });
  await page.mouse.up();
  await page.keyboard.up('Shift');
  return frames;
}

/** From a pick's new place to the fit that follows from it, in ms, for each step of a drag. */
export async function dragPick(page: Page): Promise<number[]> {
  const marker = page.getByRole('slider', { name: /^Mode 2/ }).first();
  await marker.waitFor();
  return marker.evaluate(async (element, steps) => {
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const head = element.querySelector('svg')!.getBoundingClientRect();
    const [x, y] = [head.x + head.width / 2, head.y + head.height / 2];
    const fire = (type: string, clientX: number) =>
      element.dispatchEvent(
        new PointerEvent(type, { bubbles: true, pointerId: 1, clientX, clientY: y, isPrimary: true }),
      );
    const own = Element.prototype.setPointerCapture;
    Element.prototype.setPointerCapture = () => {};
    const state = document.querySelector('.picks-table thead th:nth-last-child(2)')!;
    /** Once it has begun and is over: between two frames it may do both. */
    const fitted = () =>
      new Promise<void>((resolve) => {
        let hasBegun = false;
        const observer = new MutationObserver(() => {
          const isFitting = state.textContent === 'fitting anew';
          if (hasBegun && !isFitting) {
            observer.disconnect();
            resolve();
          }
          hasBegun ||= isFitting;
        });
        observer.observe(state, { childList: true, characterData: true, subtree: true });
      });
    const times: number[] = [];
    fire('pointerdown', x);
    for (let i = 1; i <= steps; i++) {
      const isFitted = fitted();
      const start = performance.now();
      fire('pointermove', x + 4 + (i % 12));
      await isFitted;
      await frame();
      times.push(performance.now() - start);
    }
    fire('pointerup', x);
    Element.prototype.setPointerCapture = own;
    return times.slice(5);
  }, DRAG_STEPS);
}

/** From a jump of the scroll bar to the rows there, in ms. */
export async function measureScroll(page: Page): Promise<number[]> {
  return page.evaluate(async (count) => {
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const scroller = document.querySelector('.register-scroll')!;
    const rowPx = scroller.querySelector('tbody tr[aria-rowindex]')!.getBoundingClientRect().height;
    const times: number[] = [];
    for (let i = 1; i <= count; i++) {
      const start = performance.now();
      scroller.scrollTop = (scroller.scrollHeight * ((i * 7) % count)) / count;
      const wanted = Math.floor(scroller.scrollTop / rowPx);
      const isThere = () => {
        const row = document.querySelector(`tr[aria-rowindex="${wanted + 6}"]`);
        return row?.querySelector('th button') != null;
      };
      while (!isThere()) await frame();
      times.push(performance.now() - start);
    }
    return times;
  }, SCROLLS);
}

/** From a letter typed into the search to its rows, in ms. */
export async function measureFilter(page: Page): Promise<number[]> {
  return page.evaluate(async (words) => {
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const field = document.querySelector<HTMLInputElement>('.register-search input')!;
    const set = Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!;
    const shown = () => document.querySelector('.register-head [role="status"]')!.textContent;
    const times: number[] = [];
    for (const word of words) {
      for (const text of [word, '']) {
        const before = shown();
        const start = performance.now();
        set.call(field, text);
        field.dispatchEvent(new Event('input', { bubbles: true }));
        while (shown() === before) {
          await frame();
          if (performance.now() - start > 5000) break;
        }
        await frame();
        times.push(performance.now() - start);
      }
    }
    return times;
  }, WORDS);
}
