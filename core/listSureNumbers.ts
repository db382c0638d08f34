import type { Assignment } from './inference/index.ts';

/** A pick counts where its number is this sure (ours). */
const LEAST_NUMBER_PROBABILITY = 0.8;

/** The number of each pick in the likeliest of rival numberings; null where it has none there, or where rivals leave it open. */
export function listSureNumbers(rivals: readonly Assignment[]): (number | null)[] {
  const numbers = rivals[0]?.numbers ?? [];
  return numbers.map((number, i) => {
    const chance = rivals.reduce(
      (sum, rival) => sum + (rival.numbers[i] === number ? rival.probability : 0),
      0,
    );
    return chance >= LEAST_NUMBER_PROBABILITY ? number : null;
  });
}
