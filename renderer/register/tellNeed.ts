import type { RegisterRow } from '../types.ts';

/** Why a visit wants another look, or why it needs none. */
export function tellNeed({ need, standing, ruling, assessmentId }: RegisterRow): string {
  if (standing === 'earlier') return 'nothing: a later visit is there';
  if (standing === 'corrected') return 'nothing: a corrected file of this visit is there';
  if (ruling !== null && ruling.assessmentId === assessmentId) return 'nothing: ruled';
  return need.reasons.map(({ words }) => words).join('; ') || 'nothing odd';
}
