/** Samples [from, to) of an array. */
export type Stretch = readonly [from: number, to: number];

/**
 * Finds the stretches in which a condition holds; those nearer to each other than `gap` samples count as one.
 * @param count - samples 0 to count - 1 are asked
 * @returns in order; none where it holds nowhere
 */
export function findStretches(count: number, holds: (i: number) => boolean, gap: number): Stretch[] {
  const stretches: [number, number][] = [];
  for (let i = 0; i < count; i++) {
    if (!holds(i)) continue;
    const last = stretches.at(-1);
    if (last && i - last[1] <= gap) last[1] = i + 1;
    else stretches.push([i, i + 1]);
  }
  return stretches;
}
