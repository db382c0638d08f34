import type { PickDecision } from '../types.ts';

/** Changes to a list of decisions on mode picks. Pure: each returns a new list in order of plane and number. */

export function decisionFor(
  decisions: readonly PickDecision[],
  plane: number,
  number: number,
): PickDecision | undefined {
  return decisions.find((d) => d.plane === plane && d.number === number);
}

/** Sets what holds for one mode of one plane; a frequency of null says that the mode is not there. */
export function decide(decisions: readonly PickDecision[], decision: PickDecision): PickDecision[] {
  return [...release(decisions, decision.plane, decision.number), decision].sort(
    (a, b) => a.plane - b.plane || a.number - b.number,
  );
}

/** Leaves one mode of one plane to the program again. */
export function release(decisions: readonly PickDecision[], plane: number, number: number): PickDecision[] {
  return decisions.filter((d) => d.plane !== plane || d.number !== number);
}

/**
 * Gives a pick another mode number. A pick that already had that number takes the old one; else the old number
 * is said to be not there, so that the program does not put the same peak back.
 * @param frequencyHz - of the pick that moves
 * @param displacedHz - of the pick that has the new number now; null where there is none
 */
export function renumber(
  decisions: readonly PickDecision[],
  plane: number,
  from: number,
  to: number,
  frequencyHz: number,
  displacedHz: number | null,
): PickDecision[] {
  const moved = decide(decisions, { plane, number: to, frequencyHz });
  return decide(moved, { plane, number: from, frequencyHz: displacedHz });
}

export function sameDecisions(a: readonly PickDecision[], b: readonly PickDecision[]): boolean {
  return (
    a.length === b.length &&
    a.every((d) => {
      const other = decisionFor(b, d.plane, d.number);
      return other !== undefined && other.frequencyHz === d.frequencyHz;
    })
  );
}
