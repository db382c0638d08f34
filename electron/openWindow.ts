import { BrowserWindow } from 'electron';
import { WINDOW_ADDRESS } from './appProtocol.ts';

const SIZE = { width: 1440, height: 920, minWidth: 1024, minHeight: 700 };

/** Opens the window; it is shown once it has something to show. @param preload - path of the built preload file */
export async function openWindow(preload: string): Promise<void> {
  const window = new BrowserWindow({
    ...SIZE,
    title: 'Stemroot',
    show: false,
    webPreferences: {
      preload,
      contextIsolation: true,
      sandbox: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      webviewTag: false,
      spellcheck: false,
    },
  });
  window.once('ready-to-show', () => window.show());
  await window.loadURL(WINDOW_ADDRESS);
}
