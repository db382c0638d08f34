import { Menu } from 'electron';

/** The least that a desktop expects: leaving, the clipboard, and the size of what is shown. */
export function setMenu(): void {
  Menu.setApplicationMenu(
    Menu.buildFromTemplate([
      { label: 'Stemroot', submenu: [{ role: 'quit' }] },
      { role: 'editMenu' },
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
