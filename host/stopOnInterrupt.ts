/**
 * Runs long work that can be broken off: the first Ctrl-C (or SIGTERM) asks it to hand out nothing more and to store what it has
 * begun; the second ends the program at once, which loses only what is in work.
 * @param work - looks at the signal before it begins the next piece
 */
export async function stopOnInterrupt<T>(work: (signal: AbortSignal) => Promise<T>): Promise<T> {
  const controller = new AbortController();
  const stop = () => {
    if (controller.signal.aborted) return;
    controller.abort();
    process.stderr.write('\nStopping: what is begun is stored first. Ctrl-C again ends at once.\n');
  };
  process.once('SIGINT', stop);
  process.once('SIGTERM', stop);
  try {
    return await work(controller.signal);
  } finally {
    process.off('SIGINT', stop);
    process.off('SIGTERM', stop);
  }
}
