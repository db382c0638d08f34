import type { IncomingHttpHeaders, IncomingMessage } from 'node:http';

export type Refusal = { status: number; reason: string };

/** Names by which a browser on this machine may call the host; anything else is a rebound name or a proxy. */
function listHosts(port: number): string[] {
  return [`127.0.0.1:${port}`, `[::1]:${port}`, `localhost:${port}`];
}

/** Refuses a request that was addressed to another name, the mark of DNS rebinding, or to several (RFC 9112, 3.2). */
export function checkHost({ headersDistinct }: IncomingMessage, port: number): Refusal | null {
  const [name, ...others] = headersDistinct.host ?? [];
  if (name !== undefined && others.length === 0 && listHosts(port).includes(name)) return null;
  return { status: 421, reason: 'This address is not served here.' };
}

/** Refuses a call that another site's page sends. */
export function checkOrigin({ host, origin }: IncomingHttpHeaders): Refusal | null {
  if (origin !== undefined && origin === `http://${host}`) return null;
  return { status: 403, reason: 'Calls are taken from the window of this program only.' };
}
