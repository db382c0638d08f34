/** The quiz on paper: every print of a lesson's questions has the same order, which is not that of the lesson. */
export const PAPER_QUIZ = 1;

/**
 * Puts the blows of a quiz into an order that follows from its number alone, so that a quiz can be taken up again and
 * tells nothing of the lesson's order. Fisher and Yates's shuffle over numbers of a linear congruential generator modulo 2^32
 * (multiplier 1664525, increment 1013904223: Press et al. 1992, Numerical Recipes, ch. 7.1; from memory).
 * @param count - number of blows
 * @param number - of the quiz, a whole number
 * @returns every index from 0 to count - 1, once
 */
export function shuffleBlows(count: number, number: number): number[] {
  const order = Array.from({ length: count }, (_, i) => i);
  let state = number >>> 0;
  for (let i = count - 1; i > 0; i--) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    // the high digits of such a generator are the random ones
    const j = Math.floor((state / 2 ** 32) * (i + 1));
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  return order;
}
