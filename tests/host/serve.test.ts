import { mkdirSync, writeFileSync } from 'node:fs';
import { Agent, request as send } from 'node:http';
import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import {
  type AnswerCall,
  callService,
  createWorkspaceService,
  type Handlers,
} from '../../core/workspace/index.ts';
import { logCalls } from '../../host/logCalls.ts';
import { type Host, type ServeOptions, serve } from '../../host/serve.ts';
import { makeFolder, makeStore } from '../workspace/visitFixture.ts';

type Reply = { status: number; headers: Record<string, string | string[] | undefined>; body: string };

/** Sends exactly these headers: fetch would mend Host and Origin. */
function exchange(
  host: Host,
  method: string,
  path: string,
  headers: Record<string, string> = {},
  body?: string | Buffer,
  agent?: Agent,
): Promise<Reply> {
  return new Promise((resolve, reject) => {
    const to = { host: '127.0.0.1', port: host.port, method, path, headers, ...(agent && { agent }) };
    const request = send(to, (response) => {
      const parts: Buffer[] = [];
      response.on('data', (part) => parts.push(part));
      response.on('end', () =>
        resolve({
          status: response.statusCode!,
          headers: response.headers,
          body: Buffer.concat(parts).toString(),
        }),
      );
    });
    request.on('error', reject);
    request.end(body);
  });
}

function allowed(host: Host): Record<string, string> {
  return {
    host: `127.0.0.1:${host.port}`,
    origin: `http://127.0.0.1:${host.port}`,
    'x-stemroot-token': host.token,
    'content-type': 'application/json',
  };
}

/** Sends these very bytes, and gives all that comes back until the host hangs up. */
function sendRaw(host: Host, text: string): Promise<string> {
  return new Promise((resolve) => {
    let answered = '';
    const socket = connect({ host: '127.0.0.1', port: host.port }, () => socket.write(text));
    socket.on('data', (part) => {
      answered += part.toString();
    });
    // a host that hangs up hard has answered all the same
    socket.on('error', () => {});
    socket.on('close', () => resolve(answered));
  });
}

async function startHost(handlers?: Handlers, options: ServeOptions = {}): Promise<Host> {
  const outer = makeFolder();
  const folder = join(outer, 'window');
  mkdirSync(join(folder, 'assets'), { recursive: true });
  writeFileSync(join(folder, 'index.html'), '<p>window</p>');
  writeFileSync(join(folder, 'assets', 'a.js'), '1');
  writeFileSync(join(outer, 'secret.html'), 'secret');
  const answering = handlers ?? createWorkspaceService(await makeStore());
  const answer: AnswerCall = (name, request) => callService(answering, name, request);
  const host = await serve(options.log ? logCalls(answer, options.log) : answer, folder, options);
  onTestFinished(() => host.close());
  return host;
}

const DESCRIBE = '/call/workspace.describe';

it('is idle though an open window goes on asking what others changed', async () => {
  const stop = Promise.withResolvers<void>();
  const host = await startHost(undefined, { onIdle: { idleMs: 100, stop: () => stop.resolve() } });
  let isStopped = false;
  void stop.promise.then(() => {
    isStopped = true;
  });
  // ends only once the host calls itself idle
  while (!isStopped) await exchange(host, 'POST', '/call/care.changes', allowed(host), '{}');
});

describe('serve', () => {
  it('answers a call of its own page', async () => {
    const host = await startHost();
    const reply = await exchange(host, 'POST', DESCRIBE, allowed(host), '{}');
    expect(reply.status).toBe(200);
    expect(JSON.parse(reply.body)).toMatchObject({ ok: true, value: { visits: 0 } });
  });

  it('hands on which workspace the window shows', async () => {
    const answer = vi.fn<AnswerCall>(async () => ({ ok: true, value: {} as never }));
    const host = await serve(answer, makeFolder());
    onTestFinished(() => host.close());
    await exchange(host, 'POST', DESCRIBE, { ...allowed(host), 'x-stemroot-opening': 'mark' }, '{}');
    expect(answer).toHaveBeenCalledWith('workspace.describe', {}, 'mark');
  });

  it('prints an address whose token stands behind the #, new at each launch', async () => {
    const [host, other] = [await startHost(), await startHost()];
    const { hash, search, pathname, hostname } = new URL(host.address);
    expect([search, pathname, hostname]).toEqual(['', '/', '127.0.0.1']);
    expect(hash).toBe(`#token=${host.token}`);
    expect(Buffer.from(host.token, 'base64url')).toHaveLength(32);
    expect(host.token).not.toBe(other.token);
  });

  it('serves the window with a policy that starts from nothing', async () => {
    const host = await startHost();
    const reply = await exchange(host, 'GET', '/', { host: `127.0.0.1:${host.port}` });
    expect(reply.body).toBe('<p>window</p>');
    const policy = String(reply.headers['content-security-policy']).split('; ');
    expect(policy[0]).toBe("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy.join()).not.toContain('unsafe-eval');
    expect(reply.headers).toMatchObject({
      'content-type': 'text/html; charset=utf-8',
      'x-content-type-options': 'nosniff',
      'cache-control': 'no-store',
      'referrer-policy': 'no-referrer',
    });
    expect(reply.headers['access-control-allow-origin']).toBeUndefined();
  });

  it('cannot be reached from another machine', async () => {
    const host = await startHost();
    const outside = Object.values(networkInterfaces())
      .flat()
      .find((address) => address && !address.internal && address.family === 'IPv4');
    // A machine without a network has no such address to try.
    if (!outside) return;
    const outcome = await new Promise((resolve) => {
      const socket = connect({ host: outside.address, port: host.port });
      socket.on('connect', () => resolve('connected'));
      socket.on('error', (error: NodeJS.ErrnoException) => resolve(error.code));
      onTestFinished(() => void socket.destroy());
    });
    expect(outcome).not.toBe('connected');
  });

  it('is there at [::1] too, so that nobody else can stand behind localhost', async () => {
    const host = await startHost();
    // A machine without IPv6 has no such address.
    if (
      !Object.values(networkInterfaces())
        .flat()
        .some((address) => address?.address === '::1')
    )
      return;
    const name = `[::1]:${host.port}`;
    const reply = await new Promise((resolve, reject) => {
      const headers = { ...allowed(host), host: name, origin: `http://${name}` };
      const to = { host: '::1', port: host.port, method: 'POST', path: DESCRIBE, headers };
      send(to, (response) => resolve(response.resume().statusCode))
        .on('error', reject)
        .end('{}');
    });
    expect(reply).toBe(200);
    await expect(startHost(undefined, { port: host.port })).rejects.toThrow(/cannot be served at port/);
  });

  it('refuses a name that was bound to this machine anew, though all of its headers agree', async () => {
    const host = await startHost();
    const name = `evil.example:${host.port}`;
    const headers = { ...allowed(host), host: name, origin: `http://${name}`, referer: `http://${name}/` };
    expect(await exchange(host, 'POST', DESCRIBE, headers, '{}')).toMatchObject({ status: 421 });
    expect(await exchange(host, 'GET', '/', { host: name })).toMatchObject({ status: 421 });
  });

  it.each([
    ['no host', 'GET / HTTP/1.0\r\n\r\n', /^HTTP\/1\.[01] 421/],
    [
      'two hosts',
      'GET / HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\nHost: evil.example\r\n\r\n',
      /^HTTP\/1\.1 4\d\d/,
    ],
    [
      'an address of another site',
      'GET http://evil.example/ HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\n\r\n',
      /^HTTP\/1\.1 404/,
    ],
    [
      'two lengths',
      'POST /call/register.list HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\nContent-Length: 2\r\nTransfer-Encoding: chunked\r\n\r\n{}',
      /^HTTP\/1\.1 400/,
    ],
    [
      'headers without end',
      `GET / HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\nX: ${'x'.repeat(20_000)}\r\n\r\n`,
      /^HTTP\/1\.1 431/,
    ],
    ['no HTTP', '\x16\x03\x01\x02\x00', /^HTTP\/1\.1 400/],
    ['a tunnel', 'CONNECT evil.example:80 HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\n\r\n', /^$/],
    [
      'another protocol',
      'GET / HTTP/1.1\r\nHost: 127.0.0.1:PORT\r\nConnection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==\r\n\r\n',
      /^$/,
    ],
  ])('answers a request with %s by a refusal or not at all', async (_what, text, expected) => {
    const host = await startHost();
    const answered = await sendRaw(host, text.replaceAll('PORT', String(host.port)));
    expect(answered).toMatch(expected);
    expect(answered).not.toContain('<p>window');
  });

  it.each([
    ['headers', ''],
    ['a body', `x-stemroot-token: TOKEN\r\ncontent-type: application/json\r\ncontent-length: 100\r\n\r\n{`],
  ])('waits no longer than it must for %s', async (_what, rest) => {
    const host = await startHost(undefined, { slowestRequestMs: 200 });
    const own = `127.0.0.1:${host.port}`;
    const start = `POST ${DESCRIBE} HTTP/1.1\r\nHost: ${own}\r\nOrigin: http://${own}\r\n`;
    expect(await sendRaw(host, start + rest.replace('TOKEN', host.token))).toMatch(/^HTTP\/1\.1 408/);
  });

  it('hears nobody new after too many wrong tokens, and goes on with its window', async () => {
    const host = await startHost();
    const agent = new Agent({ keepAlive: true, maxSockets: 1 });
    onTestFinished(() => agent.destroy());
    const windowCalls = () => exchange(host, 'POST', DESCRIBE, allowed(host), '{}', agent);
    expect((await windowCalls()).status).toBe(200);
    const guess = (i: number) =>
      exchange(host, 'POST', DESCRIBE, { ...allowed(host), 'x-stemroot-token': `guess ${i}` }, '{}');
    const statuses = new Set<number>();
    for (let i = 0; i < 120; i++) statuses.add((await guess(i)).status);
    expect([...statuses]).toEqual([401, 429]);
    expect((await exchange(host, 'POST', DESCRIBE, allowed(host), '{}')).status).toBe(429);
    expect((await windowCalls()).status).toBe(200);
  });

  it('logs calls and refusals, and neither token nor contents', async () => {
    const lines: string[] = [];
    const tell = (facts: object, message: string) => void lines.push(JSON.stringify([facts, message]));
    const host = await startHost(undefined, { log: { info: tell, warn: tell, error: tell } });
    await exchange(host, 'POST', DESCRIBE, allowed(host), '{"secret":"contents"}');
    await exchange(host, 'POST', `${DESCRIBE}?token=${host.token}`, allowed(host), '{}');
    await exchange(host, 'POST', DESCRIBE, { ...allowed(host), 'x-stemroot-token': 'guessed' }, '{}');
    await exchange(host, 'GET', '/', { host: 'evil.example', referer: `http://x/#${host.token}` });
    expect(lines).toHaveLength(3);
    expect(lines[0]).toMatch(/"call":"workspace.describe","ms":\d+,"outcome":"ok"/);
    for (const hidden of [host.token, 'contents', 'guessed']) expect(lines.join()).not.toContain(hidden);
  });

  it('tells once that a window has come', async () => {
    const onOpened = vi.fn();
    const host = await startHost(undefined, { onOpened });
    await exchange(host, 'GET', '/', { host: `127.0.0.1:${host.port}` });
    expect(onOpened).not.toHaveBeenCalled();
    for (const _ of [1, 2]) await exchange(host, 'POST', DESCRIBE, allowed(host), '{}');
    expect(onOpened).toHaveBeenCalledTimes(1);
  });

  it.each(['evil.example', 'evil.example:80', '127.0.0.1', '127.0.0.1:1', '127.0.0.1.evil.example'])(
    'refuses every request for the name "%s"',
    async (name) => {
      const host = await startHost();
      for (const [method, path] of [
        ['GET', '/'],
        ['POST', DESCRIBE],
      ] as const) {
        const reply = await exchange(host, method, path, { ...allowed(host), host: name }, '{}');
        expect(reply.status).toBe(421);
        expect(reply.body).not.toContain('window</p>');
      }
    },
  );

  it.each([
    'http://evil.example',
    'null',
    'https://127.0.0.1:PORT',
    'http://127.0.0.1',
    'http://127.0.0.1:1',
    'http://localhost:PORT',
  ])('refuses a call from a page of %s, also with the token', async (origin) => {
    const host = await startHost();
    const headers = { ...allowed(host), origin: origin.replace('PORT', String(host.port)) };
    expect(await exchange(host, 'POST', DESCRIBE, headers, '{}')).toMatchObject({ status: 403 });
  });

  it('refuses a call without an origin', async () => {
    const host = await startHost();
    const { origin: _, ...headers } = allowed(host);
    expect(await exchange(host, 'POST', DESCRIBE, headers, '{}')).toMatchObject({ status: 403 });
  });

  it('refuses no token, a wrong one, and one in the query or a cookie', async () => {
    const host = await startHost();
    const { 'x-stemroot-token': token, ...without } = allowed(host);
    const attempts: [string, Record<string, string>][] = [
      [DESCRIBE, without],
      [DESCRIBE, { ...without, 'x-stemroot-token': '' }],
      [DESCRIBE, { ...without, 'x-stemroot-token': `${token!.slice(0, -1)}_` }],
      [DESCRIBE, { ...without, 'x-stemroot-token': `${token}, ${token}` }],
      [`${DESCRIBE}?token=${token}`, without],
      [DESCRIBE, { ...without, cookie: `token=${token}`, authorization: `Bearer ${token}` }],
    ];
    for (const [path, headers] of attempts) {
      expect(await exchange(host, 'POST', path, headers, '{}')).toMatchObject({ status: 401 });
    }
  });

  it('refuses a call with a query, even with the token in its header', async () => {
    const host = await startHost();
    expect(await exchange(host, 'POST', `${DESCRIBE}?token=x`, allowed(host), '{}')).toMatchObject({
      status: 404,
    });
  });

  it.each(['PUT', 'DELETE', 'OPTIONS', 'PATCH'])(
    'answers no %s, so that no other site may ask',
    async (method) => {
      const host = await startHost();
      const reply = await exchange(host, method, DESCRIBE, allowed(host));
      expect(reply.status).toBe(405);
      expect(reply.headers['access-control-allow-methods']).toBeUndefined();
    },
  );

  it('takes JSON only, as a form on another page cannot send it', async () => {
    const host = await startHost();
    for (const type of ['text/plain', 'application/x-www-form-urlencoded', '']) {
      const headers = { ...allowed(host), 'content-type': type };
      expect(await exchange(host, 'POST', DESCRIBE, headers, '{}')).toMatchObject({ status: 415 });
    }
    expect(await exchange(host, 'POST', DESCRIBE, allowed(host), '{')).toMatchObject({ status: 400 });
  });

  it('reads a call no further than its limit, announced or not', async () => {
    const host = await startHost();
    const large = Buffer.alloc(2 * 1024 ** 2, ' ');
    const announced = await exchange(host, 'POST', DESCRIBE, allowed(host), large);
    const unannounced = await exchange(
      host,
      'POST',
      DESCRIBE,
      { ...allowed(host), 'transfer-encoding': 'chunked' },
      large,
    );
    expect([announced.status, unannounced.status]).toEqual([413, 413]);
    // An import brings recordings, so the same bytes are read there.
    const read = await exchange(host, 'POST', '/call/visits.import', allowed(host), large);
    expect(read.status).toBe(400);
  });

  it.each([
    '/../secret.html',
    '/..%2fsecret.html',
    '/%2e%2e/secret.html',
    '/assets/../../secret.html',
    '/assets/..%5c..%5csecret.html',
    '//secret.html',
    '/assets',
    '/assets/',
    '/nothing.html',
    '/%00index.html',
    '/%zz',
    '/index.html/',
  ])('serves nothing at %s', async (path) => {
    const host = await startHost();
    const reply = await exchange(host, 'GET', path, { host: `127.0.0.1:${host.port}` });
    expect(reply.status).toBe(404);
    expect(reply.body).not.toContain('secret');
  });

  it('says nothing of an error of its own', async () => {
    const handlers = createWorkspaceService(await makeStore());
    const host = await startHost({
      ...handlers,
      'register.list': () => Promise.reject(new Error('inner detail')),
    });
    const log = console.error;
    console.error = () => {};
    onTestFinished(() => {
      console.error = log;
    });
    const reply = await exchange(host, 'POST', '/call/register.list', allowed(host), '{}');
    expect(JSON.parse(reply.body)).toMatchObject({ ok: false, code: 'internal' });
    expect(reply.body).not.toContain('inner detail');
  });
});
