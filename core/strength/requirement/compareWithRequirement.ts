import { chanceBelow } from '../distribution/chanceBelow.ts';
import type { StrengthDistribution } from '../distribution/strengthDistribution.ts';
import type { RequiredMoment } from './requiredMoment.ts';
import type { StrengthLossRule } from './strengthLossRules.ts';

/** The required moment, the rule's threshold, and the chances that a capacity is below them. */
export type Requirement = RequiredMoment & {
  /** Chance that the capacity is below `groundlineMomentNm`; null without a capacity. */
  readonly chanceBelow: number | null;
  readonly ruleFactor: number;
  /** `groundlineMomentNm` times `ruleFactor`. */
  readonly thresholdMomentNm: number;
  readonly chanceBelowThreshold: number | null;
  readonly ruleSource: string;
};

/**
 * Compares a bending capacity with a required moment and with the rule's threshold below it.
 * @param capacity - groundline moment, in N·m; null where capacity was withheld
 */
export function compareWithRequirement(
  capacity: StrengthDistribution | null,
  required: RequiredMoment,
  rule: StrengthLossRule,
): Requirement {
  const thresholdMomentNm = required.groundlineMomentNm * rule.factor;
  return {
    ...required,
    chanceBelow: capacity && chanceBelow(capacity, required.groundlineMomentNm),
    ruleFactor: rule.factor,
    thresholdMomentNm,
    chanceBelowThreshold: capacity && chanceBelow(capacity, thresholdMomentNm),
    ruleSource: rule.source,
  };
}
