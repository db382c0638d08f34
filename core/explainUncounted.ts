import type { SortedDecisions } from './decisions.ts';
import { isSamePeak } from './isSamePeak.ts';
import type { ModeCandidate } from './modal/index.ts';
import type { ProposedPick } from './numberedPick.ts';

/**
 * Why a peak that stands out is no pick, as the rest of "Not counted: ": by what an analyst decided where the peak has a number
 * without that.
 * @param number - the peak's while nobody decided on any; null where it has none then either
 * @param picks - all on their way to the fit, an analyst's among them
 */
export function explainUncounted(
  candidate: ModeCandidate,
  number: number | null,
  picks: readonly ProposedPick[],
  { picks: decided, refusals }: SortedDecisions,
): string {
  const { plane, frequencyHz } = candidate;
  if (refusals.some((refusal) => isSamePeak(candidate, refusal.plane, refusal.frequencyHz))) {
    return 'an analyst refused it';
  }
  const set = number === null ? [] : picks.filter((pick) => pick.fixedNumber !== null);
  const inPlane = set.filter((pick) => pick.candidate.plane === plane);
  const instead = inPlane.find((pick) => pick.fixedNumber === number);
  if (instead) return `an analyst set ${nameSet(instead)} instead`;
  const against = inPlane.find(
    (pick) => pick.fixedNumber! < number! !== pick.candidate.frequencyHz.value < frequencyHz.value,
  );
  if (against) return `as mode ${number} it does not go with ${nameSet(against)}, which an analyst set`;
  if (decided.some((d) => d.plane === plane && d.number === number && d.frequencyHz === null)) {
    return `an analyst declared mode ${number} of this plane missing`;
  }
  return 'no bending mode comes to lie here, or its number is not settled';
}

function nameSet({ candidate, fixedNumber }: ProposedPick): string {
  return `mode ${fixedNumber} of this plane at ${candidate.frequencyHz.value.toPrecision(4)} Hz`;
}
