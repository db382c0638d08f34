import { protocol } from 'electron';
import { readStaticFile, SECURITY_HEADERS } from '../host/index.ts';

/** Scheme of all that the shell's windows load. */
export const APP_SCHEME = 'app';
const HOST = 'window';

/** Address of the window's page. */
export const WINDOW_ADDRESS = `${APP_SCHEME}://${HOST}/`;

/** Makes `app:` a scheme with an origin of its own; to be called before the shell is ready. */
export function declareAppScheme(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: APP_SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ]);
}

/** Serves the files of one folder under `app://window/`, and nothing else. */
export function serveWindowFolder(folder: string): void {
  protocol.handle(APP_SCHEME, async (request) => {
    const { host, pathname } = new URL(request.url);
    const isAsked = request.method === 'GET' && host === HOST;
    const file = isAsked ? await readStaticFile(folder, pathname) : null;
    if (!file) return new Response(null, { status: 404, headers: SECURITY_HEADERS });
    return new Response(new Uint8Array(file.bytes), {
      headers: { ...SECURITY_HEADERS, 'content-type': file.contentType },
    });
  });
}

/** Says whether an address is that of the window's own page. */
export function isWindowAddress(address: string): boolean {
  const url = URL.parse(address);
  return url !== null && url.protocol === `${APP_SCHEME}:` && url.host === HOST;
}
