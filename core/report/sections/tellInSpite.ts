import type { Assessment, AssessmentFailure } from '../../assessment.ts';
import { speakAgainstKeeping } from '../../speakAgainstKeeping.ts';
import { type Markup, markup } from '../markup.ts';
import type { ReportRuling } from '../reportInput.ts';

/** Of a pole that is kept though the result of this report speaks against it, what speaks against it; else nothing. */
export function tellInSpite(
  { decision, withdrawn }: ReportRuling,
  assessment: Assessment | AssessmentFailure,
): Markup | null {
  if (decision !== 'keep' || withdrawn) return null;
  const against = speakAgainstKeeping(assessment);
  return against.length === 0 ? null : markup` <b>Kept in spite of the result: ${against.join('; ')}.</b>`;
}
