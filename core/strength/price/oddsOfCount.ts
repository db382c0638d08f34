import normal from '@stdlib/stats-base-dists-normal';

/** Beyond, the normal approximation is good to 1e-3 and the exact sum takes its time. */
const MOST_EXACT = 2000;

/**
 * Computes how often so many or more, or so few or fewer, whichever is rarer, come true of independent events with these chances; twice that, at
 * most 1. Exact by adding one event after the other (Poisson binomial distribution) up to 2000 events, by the normal distribution beyond.
 */
export function oddsOfCount(chances: readonly number[], count: number): number {
  const { below, at } =
    chances.length <= MOST_EXACT ? sumExactly(chances, count) : approximate(chances, count);
  return Math.min(1, Math.max(0, 2 * Math.min(below + at, 1 - below)));
}

/** Chance of fewer than `count`, and of `count`. */
function sumExactly(chances: readonly number[], count: number): { below: number; at: number } {
  const of = new Float64Array(chances.length + 1);
  of[0] = 1;
  for (const [i, chance] of chances.entries()) {
    for (let k = i + 1; k > 0; k--) of[k] = of[k]! * (1 - chance) + of[k - 1]! * chance;
    of[0] = of[0]! * (1 - chance);
  }
  let below = 0;
  for (let k = 0; k < count; k++) below += of[k]!;
  return { below, at: of[count]! };
}

function approximate(chances: readonly number[], count: number): { below: number; at: number } {
  const mean = chances.reduce((sum, p) => sum + p, 0);
  const sd = Math.sqrt(chances.reduce((sum, p) => sum + p * (1 - p), 0));
  const upTo = (k: number) => normal.cdf(k, mean, sd);
  const below = upTo(count - 0.5);
  return { below, at: upTo(count + 0.5) - below };
}
