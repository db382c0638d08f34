import { createHash, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import type { Refusal } from './guards.ts';

/** Header in which the window shows the token of this launch. */
const TOKEN_HEADER = 'x-stemroot-token';

/** Wrong tokens that a minute allows: a page left open from an earlier launch shows some, a program that guesses shows thousands. */
const MOST_WRONG = 100;
const WATCHED_MS = 60_000;

/**
 * Lets calls in that show the token of this launch. After too many wrong ones within a minute, only connections that have shown
 * the right one before are heard until the minute is over, so that nobody can guess on and the window goes on working.
 * @param now - a clock that never goes back, in ms
 * @returns why a call is refused; null where it is let in
 */
export function createTokenGate(
  token: string,
  now: () => number = () => performance.now(),
): (request: IncomingMessage) => Refusal | null {
  const trusted = new WeakSet<object>();
  let wrongAt: number[] = [];
  return ({ headers, socket }) => {
    wrongAt = wrongAt.filter((time) => now() - time < WATCHED_MS);
    if (wrongAt.length >= MOST_WRONG && !trusted.has(socket)) {
      return { status: 429, reason: 'Too many wrong tokens were shown; wait a minute.' };
    }
    const shown = headers[TOKEN_HEADER];
    if (typeof shown === 'string' && isSame(shown, token)) {
      trusted.add(socket);
      return null;
    }
    if (shown !== undefined) wrongAt.push(now());
    return { status: 401, reason: 'The token of this launch is missing or wrong; open the printed address.' };
  };
}

/** Compares in a time that tells nothing about where two texts differ. */
function isSame(a: string, b: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(a), digest(b));
}
