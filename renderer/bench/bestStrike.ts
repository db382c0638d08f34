import type { Strike } from '../types.ts';

const BEST_FIRST: readonly Strike['verdict'][] = ['use', 'use with care', 'repeat'];

/** Index of the first strike with the best verdict; null where there is none. */
export function bestStrike(strikes: readonly Pick<Strike, 'verdict'>[]): number | null {
  for (const verdict of BEST_FIRST) {
    const index = strikes.findIndex((strike) => strike.verdict === verdict);
    if (index >= 0) return index;
  }
  return null;
}
