import { BrowserWindow, Menu } from 'electron';
import { WINDOW_COMMANDS } from '../core/windowCommands.ts';

/** What a desktop expects (leaving, the clipboard, the size of what is shown), and the commands of the window. */
export function setMenu(): void {
  Menu.setApplicationMenu(
    Menu.buildFromTemplate([
      { label: 'Stemroot', submenu: [{ role: 'quit' }] },
      { role: 'editMenu' },
      {
        label: 'Commands',
        submenu: WINDOW_COMMANDS.map(({ id, title, keys }) => ({
          label: title,
          accelerator: keys,
          // the page answers to the keys itself
          registerAccelerator: false,
          click: () => BrowserWindow.getFocusedWindow()?.webContents.send('stemroot:command', id),
        })),
      },
      {
        label: 'View',
        submenu: [
          { role: 'zoomIn' },
          { role: 'zoomOut' },
          { role: 'resetZoom' },
          { role: 'togglefullscreen' },
        ],
      },
    ]),
  );
}
