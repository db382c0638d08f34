/** Of the smaller of target and 1 - target: beyond what any chance is read to. */
const TOLERANCE = 1e-10;
const MOST_STEPS = 200;

/**
 * Finds where an increasing function from 0 to 1 meets a target: the Illinois variant of false position (Dowell and Jarratt
 * 1971, BIT 11:168, from memory), which keeps the answer between its bounds. Bounds that do not hold the answer are moved outwards.
 */
export function solveIncreasing(
  chanceAt: (x: number) => number,
  target: number,
  low: number,
  high: number,
): number {
  const enough = TOLERANCE * Math.min(target, 1 - target);
  let a = { x: low, f: chanceAt(low) - target };
  let b = { x: high, f: chanceAt(high) - target };
  for (let reach = high - low; a.f > 0; reach *= 2) a = { x: a.x - reach, f: chanceAt(a.x - reach) - target };
  for (let reach = high - low; b.f < 0; reach *= 2) b = { x: b.x + reach, f: chanceAt(b.x + reach) - target };
  let kept: 'a' | 'b' | null = null;
  for (let step = 0; step < MOST_STEPS; step++) {
    const x = b.f === a.f ? (a.x + b.x) / 2 : (a.x * b.f - b.x * a.f) / (b.f - a.f);
    const f = chanceAt(x) - target;
    if (Math.abs(f) <= enough || x === a.x || x === b.x) return x;
    // an end that stays twice pulls half as hard, so that it moves too
    if (f > 0) {
      if (kept === 'a') a.f /= 2;
      b = { x, f };
      kept = 'a';
    } else {
      if (kept === 'b') b.f /= 2;
      a = { x, f };
      kept = 'b';
    }
  }
  return (a.x + b.x) / 2;
}
