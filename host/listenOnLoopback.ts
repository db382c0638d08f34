import type { RequestListener, Server, ServerOptions } from 'node:http';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { StemrootError } from '../core/errors.ts';

/** The loopback addresses: nothing outside of this machine can reach them. */
const ADDRESS_4 = '127.0.0.1';
const ADDRESS_6 = '::1';

/** Somebody else may hold the same port on the other address; another free one is soon found. */
const MOST_ATTEMPTS = 20;
/** A window holds a handful of connections. */
const MOST_CONNECTIONS = 100;

export type Loopback = { readonly port: number; close(): Promise<void> };

/**
 * Listens on 127.0.0.1 and, where the machine has it, on [::1], at the same port: no other program can then stand behind
 * the name localhost.
 * @param port - 0 takes a free one
 * @throws StemrootError `host.port` where the port is taken or not allowed
 */
export async function listenOnLoopback(
  listener: RequestListener,
  port: number,
  options: ServerOptions,
): Promise<Loopback> {
  for (let attempt = 1; ; attempt++) {
    const first = makeServer(listener, options);
    await listen(first, ADDRESS_4, port);
    const { port: bound } = first.address() as AddressInfo;
    const second = makeServer(listener, options);
    try {
      await listen(second, ADDRESS_6, bound);
      return { port: bound, close: () => closeAll([first, second]) };
    } catch (error) {
      const { cause } = error as StemrootError;
      const { code } = cause as NodeJS.ErrnoException;
      if (code === 'EADDRNOTAVAIL' || code === 'EAFNOSUPPORT') {
        return { port: bound, close: () => closeAll([first]) };
      }
      await closeAll([first]);
      if (port !== 0 || attempt === MOST_ATTEMPTS) throw error;
    }
  }
}

function makeServer(listener: RequestListener, options: ServerOptions): Server {
  const server = createServer(options, listener);
  server.maxConnections = MOST_CONNECTIONS;
  // no other protocol is spoken here
  server.on('upgrade', (_request, socket) => socket.destroy());
  server.on('connect', (_request, socket) => socket.destroy());
  return server;
}

function listen(server: Server, host: string, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once('error', (cause: NodeJS.ErrnoException) => reject(refusePort(host, port, cause)));
    server.listen({ host, port, ipv6Only: true }, resolve);
  });
}

function refusePort(host: string, port: number, cause: NodeJS.ErrnoException): StemrootError {
  const error = new StemrootError(
    'host.port',
    `The window cannot be served at port ${port} of ${host} (${cause.code}).`,
    'Close the program that holds the port, or leave --port out to take a free one.',
  );
  error.cause = cause;
  return error;
}

async function closeAll(servers: readonly Server[]): Promise<void> {
  await Promise.all(
    servers.map(
      (server) =>
        new Promise<void>((resolve) => {
          server.close(() => resolve());
          server.closeAllConnections();
        }),
    ),
  );
}
