import type { CallName } from '../core/workspace/index.ts';

/** Every open window asks this every few seconds, which tells nothing of whether anybody is at work. */
export const ASKED_ALL_THE_TIME: CallName = 'care.changes';
