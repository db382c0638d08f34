import type { Notice } from '../core/workspace/index.ts';

/** Says on standard error what a person should know of how a workspace was opened. */
export function tellNotices(notices: readonly Notice[]): void {
  for (const { message, hint } of notices) process.stderr.write(`${message} ${hint}\n`);
}
