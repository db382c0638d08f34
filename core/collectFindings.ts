import type { Assessment } from './assessment.ts';

type Finding = Assessment['findings'][number];

/** How far the calibration goes, which the chain does not know. */
const CALIBRATION_LIMIT = 'calibration-limit';

/**
 * All that was found of a result, as every door tells it: what the chain found, and in one finding what its calibration says of how
 * far it goes at this pole. A stored result keeps both apart, since strength may be brought under another calibration.
 */
export function collectFindings({
  findings,
  strength,
}: Pick<Assessment, 'findings' | 'strength'>): Finding[] {
  if (!strength || strength.warnings.length === 0) return [...findings];
  return [...findings, { id: CALIBRATION_LIMIT, text: strength.warnings.join(' ') }];
}
