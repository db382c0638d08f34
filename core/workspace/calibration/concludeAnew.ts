import { type Assessment, assessmentSchema } from '../../assessment.ts';
import { concludeOnStrength, type StrengthConclusion } from '../../concludeOnStrength.ts';
import type { VisitFile } from '../../recording/index.ts';
import { RESULT_DIGITS, roundNumbers } from '../../roundNumbers.ts';
import type { Calibration } from '../../strength/index.ts';

/** What of a result strength follows from, checked on its way in. */
const basisSchema = assessmentSchema.pick({
  verdict: true,
  withheldBecause: true,
  withheldBy: true,
  stem: true,
  root: true,
  modes: true,
  priors: true,
});

/**
 * Strength and requirement anew from a stored result, rounded as results are.
 * @param visit - with the requirement that it is compared with
 * @throws ZodError where the result is not of the form that this program reads
 */
export function concludeAnew(
  basis: Assessment,
  visit: VisitFile,
  calibration: Calibration,
): StrengthConclusion {
  return roundNumbers(concludeOnStrength(visit, basisSchema.parse(basis), calibration), RESULT_DIGITS);
}
