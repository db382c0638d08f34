import {
  chmodSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import type { IncomingMessage } from 'node:http';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it, onTestFinished, vi } from 'vitest';
import { reportError } from '../../core/reportError.ts';
import { handOver } from '../../host/handOver.ts';
import { openBrowser } from '../../host/openBrowser.ts';
import { openLog } from '../../host/openLog.ts';
import { createTokenGate } from '../../host/tokenGate.ts';
import { watchIdle } from '../../host/watchIdle.ts';
import { makeFolder } from '../workspace/visitFixture.ts';

const ADDRESS = 'http://127.0.0.1:1/#token=a-secret';

describe('the page that is handed to a browser', () => {
  it('is for this user alone, leads to the address, and goes', () => {
    const { page, remove } = handOver(ADDRESS);
    onTestFinished(remove);
    const file = fileURLToPath(page);
    expect(page).not.toContain('secret');
    expect(statSync(file).mode & 0o777).toBe(0o600);
    expect(statSync(join(file, '..')).mode & 0o777).toBe(0o700);
    expect(readFileSync(file, 'utf8')).toContain(`content="0;url=${ADDRESS}"`);
    remove();
    expect(existsSync(join(file, '..'))).toBe(false);
  });

  it.runIf(process.platform === 'linux')('leaves no token on the command line', async () => {
    const folder = makeFolder();
    const seen = join(folder, 'seen');
    const opener = join(folder, 'xdg-open');
    writeFileSync(opener, `#!/bin/sh\nprintf '%s' "$*" > ${seen}.part && mv ${seen}.part ${seen}\n`);
    chmodSync(opener, 0o755);
    vi.stubEnv('PATH', `${folder}:${process.env.PATH}`);
    onTestFinished(() => void vi.unstubAllEnvs());
    const { page, remove } = handOver(ADDRESS);
    onTestFinished(remove);
    openBrowser(page);
    await vi.waitFor(() => expect(existsSync(seen)).toBe(true), { timeout: 10_000 });
    expect(readFileSync(seen, 'utf8')).toBe(page);
  });
});

describe('the gate of the token', () => {
  it('is open again once a minute has gone by, whatever the clock on the wall says', () => {
    let time = 0;
    const check = createTokenGate('right', () => time);
    const show = (token: string) =>
      check({ headers: { 'x-stemroot-token': token }, socket: {} } as unknown as IncomingMessage)?.status ??
      200;
    expect(show('right')).toBe(200);
    for (let i = 0; i < 100; i++) expect(show('wrong')).toBe(401);
    time = 59_999;
    expect([show('wrong'), show('right')]).toEqual([429, 429]);
    time = 60_000;
    expect([show('right'), show('wrong')]).toEqual([200, 401]);
  });

  it('counts no call without a token: nothing is guessed by it', () => {
    const check = createTokenGate('right', () => 0);
    const without = { headers: {}, socket: {} } as unknown as IncomingMessage;
    for (let i = 0; i < 200; i++) expect(check(without)?.status).toBe(401);
  });
});

describe('the watch for idleness', () => {
  it('stops when nothing was asked for so long, and never while something is under way', () => {
    vi.useFakeTimers();
    onTestFinished(() => void vi.useRealTimers());
    const stop = vi.fn();
    const idle = watchIdle(1000, stop);
    vi.advanceTimersByTime(900);
    idle.begin();
    idle.begin();
    vi.advanceTimersByTime(5000);
    idle.end();
    vi.advanceTimersByTime(5000);
    expect(stop).not.toHaveBeenCalled();
    idle.end();
    vi.advanceTimersByTime(999);
    expect(stop).not.toHaveBeenCalled();
    vi.advanceTimersByTime(1);
    expect(stop).toHaveBeenCalledTimes(1);
    idle.stop();
  });
});

describe('the log', () => {
  it('is for this user alone, and holds errors of all threads', async () => {
    const folder = join(makeFolder(), 'logs');
    const log = await openLog(folder);
    vi.spyOn(console, 'error').mockImplementation(() => {});
    log.info({ call: 'visit.open', ms: 3 }, 'call');
    reportError('visit.open failed', new Error('inner detail'));
    const read = () =>
      readdirSync(folder)
        .map((name) => readFileSync(join(folder, name), 'utf8'))
        .join('');
    await vi.waitFor(() => expect(read()).toContain('inner detail'));
    log.close();
    expect(read()).toContain('"call":"visit.open","ms":3');
    for (const name of readdirSync(folder)) expect(statSync(join(folder, name)).mode & 0o077).toBe(0);
  });

  it('grows no further than its files hold', async () => {
    const folder = join(makeFolder(), 'logs');
    mkdirSync(folder);
    // of earlier launches
    for (let i = 1; i <= 9; i++) writeFileSync(join(folder, `stemroot.${i}.log`), 'earlier');
    const log = await openLog(folder);
    const long = 'x'.repeat(100_000);
    for (let i = 0; i < 200; i++) {
      log.info({ i }, long);
      if (i % 20 === 0) await new Promise(setImmediate);
    }
    const newest = () => Math.max(...readdirSync(folder).map((name) => Number(/\d+/.exec(name)?.[0] ?? 0)));
    await vi.waitFor(() => expect(newest()).toBeGreaterThanOrEqual(12));
    await vi.waitFor(() => expect(readdirSync(folder).length).toBeLessThanOrEqual(5));
    log.close();
  });

  // full(4): writing to /dev/full fails as on a disk without room
  it.runIf(existsSync('/dev/full'))('is gone without while the disk is full, and says so once', async () => {
    const folder = join(makeFolder(), 'logs');
    mkdirSync(folder);
    symlinkSync('/dev/full', join(folder, 'stemroot.1.log'));
    const told = vi.spyOn(process.stderr, 'write').mockImplementation(() => true);
    onTestFinished(() => told.mockRestore());
    const log = await openLog(folder);
    for (let i = 0; i < 10; i++) log.info({ i }, 'x'.repeat(200_000));
    expect(told.mock.calls.map(([text]) => text)).toEqual([expect.stringMatching(/^No log is kept: ENOSPC/)]);
    log.close();
  });

  it('is gone without where it cannot be written', async () => {
    const file = join(makeFolder(), 'file');
    writeFileSync(file, '');
    const told = vi.spyOn(process.stderr, 'write').mockImplementation(() => true);
    onTestFinished(() => told.mockRestore());
    const log = await openLog(join(file, 'logs'));
    log.info({}, 'nowhere');
    expect(told.mock.calls[0]![0]).toMatch(/^No log is kept: /);
  });
});
