import { randomUUID } from 'node:crypto';
import { BrowserWindow, session } from 'electron';
import { SECURITY_HEADERS } from '../host/index.ts';
import { APP_SCHEME } from './appProtocol.ts';

/** Session of the windows that print: apart from that of the window, and kept in memory only. */
const PARTITION = 'print';

const pages = new Map<string, Uint8Array>();
let isServed = false;

/**
 * Prints an HTML report to PDF in a window that is never shown, runs no script and is gone afterwards. The page is handed over
 * by the shell's own protocol: nothing is written to disk, and an address that held the page itself (`data:`) may have 2 MiB at
 * most, the pages of some ten visits.
 */
export async function printPdf(html: Uint8Array): Promise<Uint8Array> {
  servePages();
  const address = `${APP_SCHEME}://${PARTITION}/${randomUUID()}`;
  const window = new BrowserWindow({
    show: false,
    webPreferences: {
      javascript: false,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      webSecurity: true,
      spellcheck: false,
      partition: PARTITION,
    },
  });
  pages.set(address, html);
  try {
    await window.loadURL(address);
    return await window.webContents.printToPDF({ preferCSSPageSize: true, printBackground: true });
  } finally {
    pages.delete(address);
    window.destroy();
  }
}

function servePages(): void {
  if (isServed) return;
  isServed = true;
  session.fromPartition(PARTITION).protocol.handle(APP_SCHEME, ({ url }) => {
    const html = pages.get(url);
    if (!html) return new Response(null, { status: 404, headers: SECURITY_HEADERS });
    return new Response(new Uint8Array(html), {
      headers: { ...SECURITY_HEADERS, 'content-type': 'text/html; charset=utf-8' },
    });
  });
}
