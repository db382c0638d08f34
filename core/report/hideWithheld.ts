import { isConcluded, type ReportInput } from './reportInput.ts';

/**
 * A report without strength and chances unless its visit ended as assessed: what the chain had computed on
 * the way to withholding must not reach a reader on any page.
 */
export function hideWithheld(input: ReportInput): ReportInput {
  if (!isConcluded(input) || input.assessment.verdict === 'assessed') return input;
  const { requirement } = input.assessment;
  return {
    ...input,
    assessment: {
      ...input.assessment,
      strength: null,
      requirement: requirement && { ...requirement, chanceBelow: null, chanceBelowThreshold: null },
    },
  };
}
