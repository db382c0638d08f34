import { app, type Session, session } from 'electron';
import { isWindowAddress } from './appProtocol.ts';

/** Denies what this window never needs: permissions, other pages, new windows, embedded pages, foreign downloads. */
export function confine(): void {
  confineSession(session.defaultSession);
  app.on('web-contents-created', (_event, contents) => {
    contents.on('will-navigate', (event) => event.preventDefault());
    contents.on('will-frame-navigate', (event) => event.preventDefault());
    contents.on('will-redirect', (event) => event.preventDefault());
    contents.on('will-attach-webview', (event) => event.preventDefault());
    contents.setWindowOpenHandler(() => ({ action: 'deny' }));
  });
}

function confineSession(own: Session): void {
  own.setPermissionRequestHandler((_contents, _permission, decide) => decide(false));
  own.setPermissionCheckHandler(() => false);
  own.setDevicePermissionHandler(() => false);
  // A report that the window made is saved through the shell's own dialog.
  own.on('will-download', (event, item) => {
    const address = item.getURL();
    if (!address.startsWith('blob:') || !isWindowAddress(address.slice('blob:'.length)))
      event.preventDefault();
  });
}
