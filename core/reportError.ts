/** Channel on which all threads of this process tell of the program's own errors; a log may listen. */
export const ERROR_CHANNEL = 'stemroot.errors';

/** What is sent on {@link ERROR_CHANNEL}. */
export type ReportedError = { readonly what: string; readonly stack: string };

/** Tells of an error of the program's own: on standard error, and to whoever keeps a log. */
export function reportError(what: string, error: unknown): void {
  console.error(`${what}:`, error);
  const stack = error instanceof Error ? (error.stack ?? error.message) : String(error);
  const channel = new BroadcastChannel(ERROR_CHANNEL);
  channel.postMessage({ what, stack } satisfies ReportedError);
  channel.close();
}
