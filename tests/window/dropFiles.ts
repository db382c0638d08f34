import type { Page } from 'playwright';

/**
 * Drops files or folders of this machine on the window, as a desktop does: by the browser's own drag events (Chrome DevTools
 * Protocol, Input.dispatchDragEvent), so that folders arrive as folders.
 * @param at - where on the page; its middle where left out
 * @param meanwhile - what happens between the last move and the drop
 */
export async function dropFiles(
  page: Page,
  files: readonly string[],
  at?: { x: number; y: number },
  meanwhile?: () => Promise<void>,
): Promise<void> {
  const { width, height } = page.viewportSize()!;
  const { x, y } = at ?? { x: width / 2, y: height / 2 };
  const session = await page.context().newCDPSession(page);
  const data = { items: [], files: [...files], dragOperationsMask: 1 };
  for (const type of ['dragEnter', 'dragOver', 'drop'] as const) {
    if (type === 'drop') await meanwhile?.();
    await session.send('Input.dispatchDragEvent', { type, x, y, data });
  }
  await session.detach();
}
