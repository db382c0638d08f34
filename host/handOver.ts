import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';

/**
 * Writes a page that leads to an address, into a folder that only this user may enter. A browser is given the page and not the
 * address, since the command line of a program can be read by every user of the machine, and the address holds the token.
 * @returns where the page is, and how to be rid of it
 */
export function handOver(address: string): { page: string; remove(): void } {
  // mkdtemp makes it for its owner alone (mkdtemp(3), mode 0700)
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-open-'));
  const file = join(folder, 'open.html');
  const page = `<!doctype html><meta charset="utf-8"><title>Stemroot</title>
<meta name="referrer" content="no-referrer">
<meta http-equiv="refresh" content="0;url=${address}">
<a href="${address}">Open Stemroot</a>
`;
  writeFileSync(file, page, { mode: 0o600, flag: 'wx' });
  return {
    page: pathToFileURL(file).href,
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
