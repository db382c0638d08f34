import { randomBytes } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { parseJson } from '../core/parseJson.ts';
import type { AnswerCall } from '../core/workspace/index.ts';
import { ASKED_ALL_THE_TIME } from './askedAllTheTime.ts';
import { checkHost, checkOrigin, type Refusal } from './guards.ts';
import { listenOnLoopback } from './listenOnLoopback.ts';
import { readBody } from './readBody.ts';
import { SECURITY_HEADERS } from './securityHeaders.ts';
import { readStaticFile } from './staticFile.ts';
import { createTokenGate } from './tokenGate.ts';
import { watchIdle } from './watchIdle.ts';

const TOKEN_BYTES = 32;
const MEBIBYTE = 1024 ** 2;
/** Recordings of a day's visits, in base64. */
const LARGEST_IMPORT_BYTES = 256 * MEBIBYTE;
const LARGEST_CALL_BYTES = MEBIBYTE;
const CALLS_WITH_FILES: readonly string[] = [
  'visits.import',
  'intake.attach',
  'calibration.readTests',
  'calibration.keepTests',
  'calibration.import',
];
/** Ours: the headers of a window's request, with room to spare. */
const LARGEST_HEADERS_BYTES = 8192;
/** Header in which the window shows which workspace it was loaded with. */
const OPENING_HEADER = 'x-stemroot-opening';
const CALL_PATH = /^\/call\/([a-zA-Z.]{1,60})$/;

/** How long a sender on the same machine may take; ours, generous for an import on a busy one. */
const SLOWEST_HEADERS_MS = 10_000;
const SLOWEST_REQUEST_MS = 60_000;
const CHECK_EVERY_MS = 1000;

/** What a door tells of itself; a logger has these. */
export type HostLog = {
  info(facts: object, message: string): void;
  warn(facts: object, message: string): void;
  error(facts: object, message: string): void;
};

export type ServeOptions = {
  /** 0 takes a free one. @default 0 */
  port?: number | undefined;
  /** Where refusals and errors are told, without what was sent. @default nowhere */
  log?: HostLog;
  /** Called once, when a window has made its first call. */
  onOpened?: () => void;
  /** Called when no request came for `idleMs`, but for what windows ask of their own. @default never */
  onIdle?: { idleMs: number; stop: () => void } | undefined;
  /** How long a whole request may take to arrive, in ms. @default a minute */
  slowestRequestMs?: number;
};

export type Host = {
  /** Address to open in a browser; the token stands behind the #, which a browser sends to nobody. */
  address: string;
  port: number;
  token: string;
  close(): Promise<void>;
};

const SILENT: HostLog = { info: () => {}, warn: () => {}, error: () => {} };

/**
 * Serves the window and answers its calls over HTTP on this machine alone.
 * @param answerCall - of the workspace's desk
 * @param folder - the built window; nothing else is served
 */
export async function serve(
  answerCall: AnswerCall,
  folder: string,
  options: ServeOptions = {},
): Promise<Host> {
  const { log = SILENT, onOpened = () => {}, onIdle, slowestRequestMs = SLOWEST_REQUEST_MS } = options;
  const token = randomBytes(TOKEN_BYTES).toString('base64url');
  const checkToken = createTokenGate(token);
  const idle = onIdle && watchIdle(onIdle.idleMs, onIdle.stop);
  let isOpened = false;

  const loopback = await listenOnLoopback(take, options.port ?? 0, {
    headersTimeout: Math.min(SLOWEST_HEADERS_MS, slowestRequestMs),
    requestTimeout: slowestRequestMs,
    connectionsCheckingInterval: Math.min(CHECK_EVERY_MS, slowestRequestMs),
    maxHeaderSize: LARGEST_HEADERS_BYTES,
  });
  const { port } = loopback;

  function take(request: IncomingMessage, response: ServerResponse): void {
    if (request.url !== `/call/${ASKED_ALL_THE_TIME}`) {
      idle?.begin();
      response.on('close', () => idle?.end());
    }
    answer(request, response).catch((error) => {
      // a sender that hung up is no error of the program's
      if (request.destroyed && !request.complete) return;
      log.error({ err: error }, 'The host failed.');
      if (!response.headersSent)
        refuse(response, { status: 500, reason: 'The program met an error of its own.' });
    });
  }

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const { headers, method } = request;
    const foreign = checkHost(request, port);
    if (foreign) return turnAway(response, foreign);
    const [pathname = '', query] = (request.url ?? '').split(/\?(.*)/s);
    if (method === 'GET' || method === 'HEAD') return sendFile(pathname, response);
    if (method !== 'POST') return refuse(response, { status: 405, reason: 'GET and POST are answered.' });
    const refused = checkOrigin(headers) ?? checkToken(request);
    if (refused) return turnAway(response, refused);
    const name = CALL_PATH.exec(pathname)?.[1];
    if (name === undefined || query !== undefined) {
      return refuse(response, { status: 404, reason: 'Calls go to /call/<name>, without a query.' });
    }
    if (!isOpened) onOpened();
    isOpened = true;
    await takeCall(name, request, response);
  }

  async function takeCall(name: string, request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (request.headers['content-type']?.split(';')[0] !== 'application/json') {
      return refuse(response, { status: 415, reason: 'A request is application/json.' });
    }
    const limit = CALLS_WITH_FILES.includes(name) ? LARGEST_IMPORT_BYTES : LARGEST_CALL_BYTES;
    const body = await readBody(request, limit);
    if (body === null) {
      return refuse(response, { status: 413, reason: `A request of this call has at most ${limit} bytes.` });
    }
    let parsed: unknown;
    try {
      parsed = parseJson(body.toString('utf8'));
    } catch {
      return refuse(response, { status: 400, reason: 'The request is no JSON.' });
    }
    sendJson(response, 200, await answerCall(name, parsed, String(request.headers[OPENING_HEADER])));
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

  function turnAway(response: ServerResponse, refusal: Refusal): void {
    log.warn({ status: refusal.status }, refusal.reason);
    refuse(response, refusal);
  }

  return {
    address: `http://127.0.0.1:${port}/#token=${token}`,
    port,
    token,
    close: () => {
      idle?.stop();
      return loopback.close();
    },
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
