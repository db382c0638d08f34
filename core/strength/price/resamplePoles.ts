import { drawBelow } from './parkMiller.ts';

/**
 * Bootstrap by pole: draws as many poles as there are, with replacement, and tells how often each test was drawn, so that tests
 * of one pole come or stay away together.
 * Source: Efron 1979, Bootstrap methods: another look at the jackknife, Annals of Statistics 7(1) 1-26; drawing whole
 * clusters: Davison and Hinkley 1997, Bootstrap Methods and their Application, section 3.8 (from memory).
 * @param visit - called once a draw with the times of each test, in the order of `poleIds`; the array is used again
 */
export function resamplePoles(
  poleIds: readonly string[],
  resamples: number,
  seed: number,
  visit: (times: Readonly<Uint32Array>) => void,
): void {
  const order = new Map<string, number>();
  const poleOf = poleIds.map((id) => {
    const known = order.get(id) ?? order.size;
    order.set(id, known);
    return known;
  });
  const poles = order.size;
  const draw = drawBelow(seed, poles);
  const timesOfPole = new Uint32Array(poles);
  const times = new Uint32Array(poleIds.length);
  for (let resample = 0; resample < resamples; resample++) {
    timesOfPole.fill(0);
    for (let i = 0; i < poles; i++) timesOfPole[draw()]! += 1;
    for (let i = 0; i < times.length; i++) times[i] = timesOfPole[poleOf[i]!]!;
    visit(times);
  }
}

/** Whether each pole was tested once, so that exact limits of independent tests hold. */
export function areAllDifferent(poleIds: readonly string[]): boolean {
  return new Set(poleIds).size === poleIds.length;
}

/**
 * Takes the central interval of resampled figures by their percentiles; figures that a draw could not give (NaN) are left out.
 * @returns null where fewer than half of the draws gave one
 */
export function takePercentiles(
  figures: Float64Array,
  level: number,
): { low: number; high: number; level: number } | null {
  const given = figures.filter((value) => !Number.isNaN(value)).sort();
  if (given.length < figures.length / 2) return null;
  const at = (share: number) => given[Math.min(given.length - 1, Math.floor(share * given.length))]!;
  return { low: at((1 - level) / 2), high: at((1 + level) / 2), level };
}
