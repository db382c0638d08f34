import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { promisify } from 'node:util';
import { StemrootError } from '../core/errors.ts';
import { locateBrowser } from './locateBrowser.ts';

const run = promisify(execFile);

/** Two hundred visits take a browser about a minute. */
const LONGEST_MS = 180_000;

/** The sandbox of the browser needs a user who is not root; a report holds no script and asks for nothing. */
const NEEDED_BY_ROOT = process.getuid?.() === 0 ? ['--no-sandbox'] : [];

/**
 * Prints an HTML report to PDF by a Chromium that is installed on this machine, in a profile of its own that is gone
 * afterwards.
 * @throws StemrootError `report.noPrinter` where there is none, `report.notPrinted` where it does not print
 */
export async function printPdf(html: Uint8Array): Promise<Uint8Array> {
  const browser = locateBrowser();
  if (browser === undefined) {
    throw new StemrootError(
      'report.noPrinter',
      'No browser was found that could write PDF.',
      'Write the report as HTML, open it, and print it to PDF from there; or name a Chromium in STEMROOT_BROWSER.',
    );
  }
  const folder = mkdtempSync(join(tmpdir(), 'stemroot-print-'));
  try {
    const [page, pdf] = [join(folder, 'report.html'), join(folder, 'report.pdf')];
    writeFileSync(page, html);
    await run(
      browser,
      [
        ...['--headless', '--disable-gpu', '--disable-background-networking', '--no-first-run'],
        ...NEEDED_BY_ROOT,
        ...[`--user-data-dir=${join(folder, 'profile')}`, `--print-to-pdf=${pdf}`, '--no-pdf-header-footer'],
        pathToFileURL(page).href,
      ],
      { timeout: LONGEST_MS },
    );
    return readFileSync(pdf);
  } catch (error) {
    throw new StemrootError(
      'report.notPrinted',
      `${browser} did not print the report (${(error as Error).message.split('\n')[0]}).`,
      'Write the report as HTML, open it, and print it to PDF from there.',
    );
  } finally {
    rmSync(folder, { recursive: true, force: true, maxRetries: 3 });
  }
}
