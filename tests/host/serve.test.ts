import { mkdirSync, writeFileSync } from 'node:fs';
import { request as send } from 'node:http';
import { connect } from 'node:net';
import { networkInterfaces } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it, onTestFinished } from 'vitest';
import { callService, createWorkspaceService, type Handlers } from '../../core/workspace/index.ts';
import { type Host, serve } from '../../host/serve.ts';
import { makeFolder, makeStore } from '../workspace/visitFixture.ts';

type Reply = { status: number; headers: Record<string, string | string[] | undefined>; body: string };

/** Sends exactly these headers: fetch would mend Host and Origin. */
function exchange(
  host: Host,
  method: string,
  path: string,
  headers: Record<string, string> = {},
  body?: string | Buffer,
): Promise<Reply> {
  return new Promise((resolve, reject) => {
    const request = send({ host: '127.0.0.1', port: host.port, method, path, headers }, (response) => {
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

async function startHost(handlers?: Handlers): Promise<Host> {
  const outer = makeFolder();
  const folder = join(outer, 'window');
  mkdirSync(join(folder, 'assets'), { recursive: true });
  writeFileSync(join(folder, 'index.html'), '<p>window</p>');
  writeFileSync(join(folder, 'assets', 'a.js'), '1');
  writeFileSync(join(outer, 'secret.html'), 'secret');
  const answering = handlers ?? createWorkspaceService(makeStore());
  const host = await serve((name, request) => callService(answering, name, request), folder);
  onTestFinished(() => host.close());
  return host;
}

const DESCRIBE = '/call/workspace.describe';

describe('serve', () => {
  it('answers a call of its own page', async () => {
    const host = await startHost();
    const reply = await exchange(host, 'POST', DESCRIBE, allowed(host), '{}');
    expect(reply.status).toBe(200);
    expect(JSON.parse(reply.body)).toMatchObject({ ok: true, value: { visits: 0 } });
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
    const handlers = createWorkspaceService(makeStore());
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
