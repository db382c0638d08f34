import { app, type Session, session } from 'electron';
import { APP_SCHEME, isWindowAddress } from './appProtocol.ts';

/** What a page of the shell may ask for: its own files, and what it made itself. Nothing leaves the machine. */
const OWN_ADDRESS = new RegExp(`^(${APP_SCHEME}|data|blob):`);

/** Denies what this window never needs: permissions, the network, other pages, new windows, embedded pages, foreign downloads. */
export function confine(): void {
  confineSession(session.defaultSession);
  // that of the windows that print
  app.on('session-created', confineSession);
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
  own.webRequest.onBeforeRequest(({ url }, decide) => decide({ cancel: !OWN_ADDRESS.test(url) }));
  // A report that the window made is saved through the shell's own dialog.
  own.on('will-download', (event, item) => {
    const address = item.getURL();
    if (!address.startsWith('blob:') || !isWindowAddress(address.slice('blob:'.length)))
      event.preventDefault();
  });
}
