import type { Assessment } from './assessment.ts';
import { isAgainstKeeping } from './speakAgainstKeeping.ts';

type Finding = Assessment['findings'][number];

/** How far the calibration goes, which the chain does not know. */
const CALIBRATION_LIMIT = 'calibration-limit';

/**
 * All that was found of a result, as every door tells it: what the chain found, and in one finding what its calibration says of how
 * far it goes at this pole; first what withholds the result, then what speaks against keeping the pole, then the rest. A stored result
 * keeps chain and calibration apart, since strength may be brought under another calibration.
 * @param compared - what is told of the visit beside the other visits of the workspace
 */
export function collectFindings(
  { findings, strength, withheldBecause }: Pick<Assessment, 'findings' | 'strength' | 'withheldBecause'>,
  compared: readonly Finding[] = [],
): Finding[] {
  const warnings = strength?.warnings ?? [];
  const limit = warnings.length > 0 ? [{ id: CALIBRATION_LIMIT, text: warnings.join(' ') }] : [];
  const isWithholding = ({ text, advice }: Finding) => advice !== undefined || text === withheldBecause;
  const rankOf = (finding: Finding) => {
    if (isWithholding(finding)) return 0;
    return isAgainstKeeping(finding.id) ? 1 : 2;
  };
  return [...compared, ...findings, ...limit].sort((a, b) => rankOf(a) - rankOf(b));
}
