import type { Assessment, AssessmentFailure } from './assessment.ts';
import { formatChance } from './formatNumbers.ts';

/** More likely than not. */
const EVEN_CHANCE = 0.5;

/**
 * What a result says against keeping its pole in service, in words; empty where it says nothing against it. It may still be
 * right to keep the pole: what was seen at the ground line counts more than any frequency.
 * @param result - null: the visit has none
 */
export function speakAgainstKeeping(result: Assessment | AssessmentFailure | null): string[] {
  if (result === null) return ['the visit was not assessed, so nothing is known of the strength'];
  if (result.verdict === 'failed')
    return ['the visit could not be assessed, so nothing is known of the strength'];
  if (!('findings' in result)) return [];
  const against: string[] = [];
  if (result.verdict === 'withheld') against.push('the result is withheld: the strength is unknown');
  const chance = result.requirement?.chanceBelowThreshold ?? 0;
  if (chance > EVEN_CHANCE) {
    against.push(`the capacity is below the threshold with a chance of ${formatChance(chance)}`);
  }
  if (result.findings.some(({ id }) => id === 'soft-root')) {
    against.push('the root is softer than its soil and depth explain: excavate and bore');
  }
  if (result.findings.some(({ id }) => id === 'girth-off-class')) {
    against.push('the girth is not that of its class, and the capacity goes with its cube: measure again');
  }
  return against;
}
