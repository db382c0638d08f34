import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright';

/** What opens over a page. */
export const OVERLAY = '[role="dialog"]';
const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/**
 * What a page lacks in accessibility, without the inside of plots: each is one image with a name and a table of its data, so
 * that nobody reads its thousands of lines and points one by one, and looking at them took most of the time.
 * @param within - selector of what lies over a page that was looked at before; it must be there @default all of the page
 * Source: Web Content Accessibility Guidelines (WCAG) 2.2, W3C Recommendation, levels A and AA, as far as the rules of
 * axe-core can tell; the rest (2.5.7, dragging) is in bench.test.ts.
 */
export async function findViolations(page: Page, within?: string): Promise<string[]> {
  const axe = new AxeBuilder({ page }).exclude('.main-svg').withTags(RULES);
  const { violations } = await (within === undefined ? axe : axe.include(within)).analyze();
  return violations.map((v) => `${v.id}: ${v.nodes.map((node) => node.html).join(' | ')}`);
}

/** Colours tell on contrast, the size on what stands where: each is looked at once, crossing them finds nothing more. */
export const LOOKS = [
  { colorScheme: 'light', viewport: { width: 1280, height: 800 } },
  { colorScheme: 'dark', viewport: { width: 1920, height: 1080 } },
] as const;
