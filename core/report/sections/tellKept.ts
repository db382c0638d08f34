import { isGroundLineInspected } from '../../isGroundLineInspected.ts';
import { speakAgainstKeeping, tellObjection } from '../../speakAgainstKeeping.ts';
import { tellUninspected } from '../../tellUninspected.ts';
import { type Markup, markup } from '../markup.ts';
import type { ReportInput, ReportRuling } from '../reportInput.ts';

/** Of a pole that is kept, what the result of this report says against that, and whether anybody looked at its ground line. */
export function tellKept(
  { decision, withdrawn, isOnThisResult }: ReportRuling,
  { assessment, compared, visit }: ReportInput,
): Markup | null {
  if (decision !== 'keep' || withdrawn) return null;
  const against = speakAgainstKeeping(assessment, compared).map(tellObjection);
  const uninspected = tellUninspected([
    { poleId: visit.pole.id, isGroundLineInspected: isGroundLineInspected(visit) },
  ]);
  const lead = isOnThisResult ? 'Kept in spite of the result' : 'The newer result speaks against keeping';
  return markup`${against.length > 0 && markup` <b>${lead}: ${against.join('; ')}.</b>`}${uninspected && ` ${uninspected}`}`;
}
