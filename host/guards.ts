import { createHash, timingSafeEqual } from 'node:crypto';
import type { IncomingHttpHeaders } from 'node:http';

/** Header in which the window shows the token of this launch. */
const TOKEN_HEADER = 'x-stemroot-token';

export type Refusal = { status: number; reason: string };

/** Names by which a browser on this machine may call the host; anything else is a rebound name or a proxy. */
function listHosts(port: number): string[] {
  return [`127.0.0.1:${port}`, `localhost:${port}`];
}

/** Refuses a request that was addressed to another name: the mark of DNS rebinding. */
export function checkHost(headers: IncomingHttpHeaders, port: number): Refusal | null {
  if (headers.host !== undefined && listHosts(port).includes(headers.host)) return null;
  return { status: 421, reason: 'This address is not served here.' };
}

/** Refuses a call that another site's page sends, or that carries no or another launch's token. */
export function checkCaller(headers: IncomingHttpHeaders, port: number, token: string): Refusal | null {
  const { origin } = headers;
  if (
    origin === undefined ||
    origin !== `http://${headers.host}` ||
    !listHosts(port).includes(origin.slice(7))
  ) {
    return { status: 403, reason: 'Calls are taken from the window of this program only.' };
  }
  const shown = headers[TOKEN_HEADER];
  if (typeof shown !== 'string' || !isSame(shown, token)) {
    return { status: 401, reason: 'The token of this launch is missing or wrong; open the printed address.' };
  }
  return null;
}

/** Compares in a time that tells nothing about where two texts differ. */
function isSame(a: string, b: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(a), digest(b));
}
