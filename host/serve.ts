import { randomBytes } from 'node:crypto';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { AnswerCall } from '../core/workspace/index.ts';
import { checkCaller, checkHost, type Refusal } from './guards.ts';
import { readBody } from './readBody.ts';
import { SECURITY_HEADERS } from './securityHeaders.ts';
import { readStaticFile } from './staticFile.ts';

/** The loopback address: nothing outside of this machine can reach it. */
const ADDRESS = '127.0.0.1';
const TOKEN_BYTES = 32;
const MEBIBYTE = 1024 ** 2;
/** Recordings of a day's visits, in base64. */
const LARGEST_IMPORT_BYTES = 256 * MEBIBYTE;
const LARGEST_CALL_BYTES = MEBIBYTE;
const CALL_PATH = /^\/call\/([a-zA-Z.]{1,60})$/;

export type Host = {
  /** Address to open in a browser; the token stands behind the #, which a browser sends to nobody. */
  address: string;
  port: number;
  token: string;
  close(): Promise<void>;
};

/**
 * Serves the window and answers its calls over HTTP on this machine alone.
 * @param answerCall - of the workspace's desk
 * @param folder - the built window; nothing else is served
 * @param port - 0 takes a free one
 */
export async function serve(answerCall: AnswerCall, folder: string, port = 0): Promise<Host> {
  const token = randomBytes(TOKEN_BYTES).toString('base64url');
  const server = createServer((request, response) => {
    answer(request, response).catch((error) => {
      console.error('The host failed:', error);
      if (!response.headersSent)
        refuse(response, { status: 500, reason: 'The program met an error of its own.' });
    });
  });

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { port: bound } = server.address() as AddressInfo;
    const foreign = checkHost(request.headers, bound);
    if (foreign) return refuse(response, foreign);
    const [pathname = '', query] = (request.url ?? '').split(/\?(.*)/s);
    if (request.method === 'GET' || request.method === 'HEAD') return sendFile(pathname, response);
    if (request.method !== 'POST')
      return refuse(response, { status: 405, reason: 'GET and POST are answered.' });
    const refused = checkCaller(request.headers, bound, token);
    if (refused) return refuse(response, refused);
    const name = CALL_PATH.exec(pathname)?.[1];
    if (name === undefined || query !== undefined) {
      return refuse(response, { status: 404, reason: 'Calls go to /call/<name>, without a query.' });
    }
    await takeCall(name, request, response);
  }

  async function takeCall(name: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (request.headers['content-type']?.split(';')[0] !== 'application/json') {
      return refuse(response, { status: 415, reason: 'A request is application/json.' });
    }
    const limit = name === 'visits.import' ? LARGEST_IMPORT_BYTES : LARGEST_CALL_BYTES;
    const body = await readBody(request, limit);
    if (body === null) {
      return refuse(response, { status: 413, reason: `A request of this call has at most ${limit} bytes.` });
    }
    let parsed: unknown;
    try {
      parsed = JSON.parse(body.toString('utf8'));
    } catch {
      return refuse(response, { status: 400, reason: 'The request is no JSON.' });
    }
    sendJson(response, 200, await answerCall(name, parsed));
  }

  async function sendFile(pathname: string, response: ServerResponse): Promise<void> {
    const file = await readStaticFile(folder, pathname);
    if (!file) return refuse(response, { status: 404, reason: 'There is no such file in the window.' });
    response.writeHead(200, {
      ...SECURITY_HEADERS,
      'content-type': file.contentType,
      'content-length': file.bytes.length,
    });
    response.end(response.req.method === 'HEAD' ? undefined : file.bytes);
  }

  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, ADDRESS, resolve);
  });
  const bound = (server.address() as AddressInfo).port;
  return {
    address: `http://${ADDRESS}:${bound}/#token=${token}`,
    port: bound,
    token,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

/**
 * Refuses in the form of the contract, and hangs up. What is left of the request is let by unread: hanging up
 * on a sender in full flow would keep the answer from it.
 */
function refuse(response: ServerResponse, { status, reason }: Refusal): void {
  response.setHeader('connection', 'close');
  response.req.resume();
  sendJson(response, status, {
    ok: false,
    code: `host.${status}`,
    message: reason,
    hint: 'Open the window from the address that the program printed at its start.',
  });
}

function sendJson(response: ServerResponse, status: number, value: unknown): void {
  const body = Buffer.from(JSON.stringify(value));
  response.writeHead(status, {
    ...SECURITY_HEADERS,
    'content-type': 'application/json; charset=utf-8',
    'content-length': body.length,
  });
  response.end(body);
}
