import { parkMiller } from '../price/parkMiller.ts';
import type { BreakTestRow } from '../relation/breakTestRow.ts';

/**
 * Deals poles to folds of sizes that differ by one at most, in an order drawn from the seed. Tests of one pole stay together.
 * @param folds - 2 or more; no more are made than there are poles
 * @returns the fold of each row
 */
export function foldPoles(rows: readonly BreakTestRow[], folds: number, seed = 1): number[] {
  const poles = shuffle([...new Set(rows.map(({ poleId }) => poleId))].sort(), seed);
  const foldOf = new Map(poles.map((poleId, i) => [poleId, i % Math.min(folds, poles.length)]));
  return rows.map(({ poleId }) => foldOf.get(poleId)!);
}

/** Items in an order drawn from the seed, each order as likely (Fisher and Yates). */
export function shuffle<T>(items: readonly T[], seed: number): T[] {
  const shuffled = [...items];
  const draw = parkMiller(seed);
  for (let i = shuffled.length - 1; i > 0; i--) {
    const j = draw() % (i + 1);
    [shuffled[i], shuffled[j]] = [shuffled[j]!, shuffled[i]!];
  }
  return shuffled;
}
