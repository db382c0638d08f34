import type { z } from 'zod';
import type { shelfCalls } from './contract/shelfCalls.ts';
import type { CallName, contract } from './contract.ts';

type Calls = Record<string, { readonly request: z.ZodType; readonly response: z.ZodType }>;

/** A handler for every call of one topic: a checked request in, an answer that fits the contract out. */
export type HandlersOf<C extends Calls> = {
  [N in keyof C]: (
    request: z.output<C[N]['request']>,
  ) => z.output<C[N]['response']> | Promise<z.output<C[N]['response']>>;
};

/** Calls that the program around a workspace answers. */
export type ShelfHandlers = HandlersOf<typeof shelfCalls>;

/** Calls that a workspace answers: all others. */
export type Handlers = HandlersOf<Pick<typeof contract, Exclude<CallName, keyof typeof shelfCalls>>>;
