import type { Assessment, PickDecision } from '../types.ts';

/** Why a pick is doubted, or why there is none: a few words for its row, and the whole of it. */
export type PickDoubt = { words: string; why: string };

/** What a finding says of each of its picks, in the room of a row. */
const WORDS_OF_FINDINGS: Readonly<Record<string, string>> = {
  'pick-not-seen': 'no strike shows it',
  'odd-pick': 'odd beside the others',
  'own-picks': 'not as proposed',
  'ratio-below-clamped': 'f2/f1 too low',
};

/**
 * Why the pick of a mode is doubted in a result, or why the mode has none there; null where nothing is to be said.
 * @param decision - what the analyst decided on it; the result must be the answer to that
 */
export function doubtPick(
  { findings, modes, missingModes, assignments }: Assessment,
  plane: number,
  number: number,
  decision: PickDecision | undefined,
): PickDoubt | null {
  const isIt = (pick: { plane: number; number: number | null }) =>
    pick.plane === plane && pick.number === number;
  const found = findings.filter((finding) => finding.modes?.some(isIt));
  if (found.length > 0) {
    return {
      words: found.flatMap(({ id }) => WORDS_OF_FINDINGS[id] ?? []).join(', '),
      why: found.map(({ text }) => text).join(' '),
    };
  }
  if (modes.some(isIt)) return null;
  if (decision) {
    return decision.frequencyHz === null
      ? null
      : {
          words: 'not counted',
          why: 'This pick could not be counted: no strike can be used, or it does not go with the numbers of the other picks of its plane.',
        };
  }
  if (assignments[0]?.numbers.some(isIt)) {
    return {
      words: 'number not sure',
      why: 'A peak may be this mode, but another reading of the peaks is nearly as likely. Number it, or see Findings, "Which peak is which mode".',
    };
  }
  const missing = missingModes?.find(isIt);
  return missing ? { words: 'not seen', why: missing.reason } : null;
}
