import type { PooledSystem } from './pooledSystem.ts';

/** Ratios are looked for on theta = t / (1 - t), t from 0 to this: standard deviations between groups up to 50 times that of a residual. */
const GREATEST_T = 50 / 51;
const GRID = 24;
/** Golden-section steps leave 0.618^30 = 5e-7 of a cell. */
const GOLDEN_STEPS = 30;
const GOLDEN = (Math.sqrt(5) - 1) / 2;
/** Rounds over the factors, until none moves by more than this in t. */
const MOST_ROUNDS = 30;
const SETTLED = 1e-6;

/**
 * Finds the standard deviation between groups over that of a residual, for each pooled factor, by restricted maximum
 * likelihood: the least of log|L|^2 + log|R_X|^2 + (n - p) log(r^2) (Bates, Maechler, Bolker and Walker 2015, J. Stat. Softw. 67(1),
 * eq. 42), L, R_X and r the diagonal blocks of one triangular factor. On a grid first, then by golden sections, factor by factor.
 * @returns one ratio a factor; 0 where groups differ no more than their poles do
 */
export function findVarianceRatios({ factors, deviance }: PooledSystem): number[] {
  const ts = factors.map(() => 0.5);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let moved = 0;
    for (const k of ts.keys()) {
      const at = (t: number) => deviance(ts.map((other, j) => ratioOf(j === k ? t : other)));
      const best = leastOnGrid(at);
      moved = Math.max(moved, Math.abs(best - ts[k]!));
      ts[k] = best;
    }
    if (ts.length === 1 || moved < SETTLED) break;
  }
  return ts.map(ratioOf);
}

/** Ratio of standard deviations from its place t between 0 and 1. */
export function ratioOf(t: number): number {
  return t / (1 - t);
}

function leastOnGrid(at: (t: number) => number): number {
  const cell = GREATEST_T / GRID;
  const values = Array.from({ length: GRID + 1 }, (_, i) => at(i * cell));
  const least = values.indexOf(Math.min(...values));
  let low = Math.max(0, least - 1) * cell;
  let high = Math.min(GRID, least + 1) * cell;
  let [left, right] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [atLeft, atRight] = [at(left), at(right)];
  for (let step = 0; step < GOLDEN_STEPS; step++) {
    if (atLeft < atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - GOLDEN * (high - low);
      atLeft = at(left);
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + GOLDEN * (high - low);
      atRight = at(right);
    }
  }
  const inside = (low + high) / 2;
  // the least may lie at the end, where groups do not differ at all
  return at(0) <= at(inside) ? 0 : inside;
}
