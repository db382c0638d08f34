import { BrowserWindow } from 'electron';

/**
 * Prints an HTML report to PDF in a window that is never shown, runs no script and is gone afterwards. The page is
 * handed over in its address, so that nothing is written to disk.
 */
export async function printPdf(html: Uint8Array): Promise<Uint8Array> {
  const window = new BrowserWindow({
    show: false,
    webPreferences: {
      javascript: false,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      webSecurity: true,
      partition: 'print',
    },
  });
  try {
    await window.loadURL(`data:text/html;charset=utf-8;base64,${Buffer.from(html).toString('base64')}`);
    return await window.webContents.printToPDF({ preferCSSPageSize: true, printBackground: true });
  } finally {
    window.destroy();
  }
}
