import { availableParallelism } from 'node:os';
import { Piscina } from 'piscina';
import { StemrootError } from '../core/errors.ts';
import { reportError } from '../core/reportError.ts';
import type { FileTasks } from './fileWorker.ts';

/** Files handed out ahead of the one that is waited for, for each thread: keeps all busy, and results few. */
const AHEAD = 4;

type Task<N extends keyof FileTasks> = Parameters<FileTasks[N]>[0];
type Result<N extends keyof FileTasks> = Awaited<ReturnType<FileTasks[N]>>;

export type MapOptions = {
  /** @default one a core, and no more than there are files */
  readonly threads?: number;
  /** Once aborted, no further file is begun; what is begun is still yielded. */
  readonly signal?: AbortSignal;
};

/**
 * Works through files on all cores and yields the results in the order of the files. A thread that breaks down is
 * replaced, and its file yields a StemrootError `work.brokenOff`.
 */
export async function* mapFiles<N extends keyof FileTasks>(
  name: N,
  tasks: readonly Task<N>[],
  { threads = Math.min(availableParallelism(), tasks.length), signal }: MapOptions = {},
): AsyncGenerator<Result<N> | StemrootError> {
  if (tasks.length === 0) return;
  const pool = new Piscina<Task<N>, Result<N>>({
    filename: new URL('./fileWorker.ts', import.meta.url).href,
    // as many at least: one that waits for its next file would be ended, and the program loaded anew for it
    minThreads: threads,
    maxThreads: threads,
  });
  // the files of a thread that breaks down are told of below; an event that nobody hears would end the program
  pool.on('error', (error) => reportError('A thread broke down', error));
  try {
    const running: Promise<Result<N> | StemrootError>[] = [];
    let next = 0;
    for (;;) {
      while (!signal?.aborted && next < tasks.length && running.length < AHEAD * threads) {
        const task = tasks[next++]!;
        running.push(pool.run(task, { name }).catch((error: Error) => brokenOff(task.path, error)));
      }
      const first = running.shift();
      if (!first) return;
      yield await first;
    }
  } finally {
    await pool.destroy();
  }
}

function brokenOff(path: string, error: Error): StemrootError {
  return new StemrootError(
    'work.brokenOff',
    `The work on ${path} was broken off (${error.message}); what was stored of it before stays.`,
    'Try this file alone: it goes on from there. If it stays, the recording may be too large for the memory of this machine.',
  );
}
