import { FAULTS, QUIZ_FAULTS } from '../../../core/workspace/contract.ts';
import type { FaultId } from '../classroomTypes.ts';
import { listFaults } from '../nameFault.ts';

/**
 * What an answer to one blow is worth, in words. A blow that has only faults that no quiz asks for is never called right: it would
 * teach that it is a good one.
 * @param key - what is there
 * @param left - what could not be judged
 */
export function compareAnswer(
  answer: readonly FaultId[],
  key: readonly FaultId[],
  left: readonly FaultId[],
): string {
  const asked = key.filter((fault) => QUIZ_FAULTS.includes(fault));
  const notAsked = FAULTS.filter(({ id }) => key.includes(id) && !QUIZ_FAULTS.includes(id));
  const misses = asked.filter((fault) => !answer.includes(fault));
  const alarms = answer.filter((fault) => !key.includes(fault) && !left.includes(fault));
  const isRight = misses.length === 0 && alarms.length === 0;
  return [
    isRight && (asked.length > 0 || notAsked.length === 0) && `Right: ${listFaults(asked)}.`,
    misses.length > 0 && `Missed: ${listFaults(misses)}.`,
    alarms.length > 0 && `False alarm: ${listFaults(alarms)}.`,
    ...notAsked.map(({ name, notAsked: why }) => `Not graded: ${name}; ${why}.`),
  ]
    .filter(Boolean)
    .join(' ');
}
