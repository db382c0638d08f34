import { homedir } from 'node:os';
import { join } from 'node:path';
import pino from 'pino';
import openRolling from 'pino-roll';
import { ERROR_CHANNEL, type ReportedError } from '../core/reportError.ts';
import type { HostLog } from './serve.ts';

const LARGEST_FILE = '2m';
/** The one that is written among them, and those of earlier launches. */
const KEPT_FILES = 5;
/** Lines held back while the disk is full; what comes beyond is lost. */
const LARGEST_BACKLOG_BYTES = 1024 ** 2;

/** Where logs lie: where each system keeps what a program may lose. XDG Base Directory Specification 0.8 for Linux. */
function logFolder(): string {
  if (process.platform === 'win32') {
    return join(process.env.LOCALAPPDATA ?? join(homedir(), 'AppData', 'Local'), 'Stemroot', 'logs');
  }
  if (process.platform === 'darwin') return join(homedir(), 'Library', 'Logs', 'Stemroot');
  return join(process.env.XDG_STATE_HOME || join(homedir(), '.local', 'state'), 'stemroot');
}

export type Log = HostLog & { close(): void };

/**
 * Opens the log of this program: files on this machine, for this user alone, the oldest removed as new ones fill. It tells
 * which calls were made, how long they took and how they ended, and the program's own errors; never what a call
 * brought or answered, no recordings and no token. Where it cannot be written the program goes on without.
 */
export async function openLog(folder = logFolder()): Promise<Log> {
  let isTold = false;
  const tellOnce = (error: Error) => {
    if (!isTold) process.stderr.write(`No log is kept: ${error.message}\n`);
    isTold = true;
  };
  let stream: Awaited<ReturnType<typeof openRolling>>;
  try {
    stream = await openRolling({
      file: join(folder, 'stemroot'),
      extension: '.log',
      size: LARGEST_FILE,
      limit: { count: KEPT_FILES, removeOtherLogFiles: true },
      maxLength: LARGEST_BACKLOG_BYTES,
      mkdir: true,
      mode: 0o600,
      sync: true,
    });
  } catch (error) {
    tellOnce(error as Error);
    return { info: () => {}, warn: () => {}, error: () => {}, close: () => {} };
  }
  // a log that cannot be written is no reason to end the program, as an event that nobody hears would
  stream.on('error', tellOnce);
  const log = pino({ base: { pid: process.pid } }, stream);
  const channel = new BroadcastChannel(ERROR_CHANNEL);
  channel.onmessage = (event) => {
    const { what, stack } = (event as { data: ReportedError }).data;
    log.error({ stack }, what);
  };
  channel.unref();
  return {
    info: (facts, message) => log.info(facts, message),
    warn: (facts, message) => log.warn(facts, message),
    error: (facts, message) => log.error(facts, message),
    close() {
      channel.close();
      stream.end();
    },
  };
}
