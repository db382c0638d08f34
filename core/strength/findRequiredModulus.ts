import type { Calibration, StrengthPredictors } from './calibration.ts';
import { solveIncreasing } from './distribution/solveIncreasing.ts';
import { medianOf } from './distribution/strengthDistribution.ts';

/** No pole wood is softer or stiffer: where the answer would lie outside, there is none. */
const SOFTEST_PA = 1e9;
const STIFFEST_PA = 4e10;

/** Share of capacity in the sum of capacity and requirement where they are equal. */
const MET = 0.5;

/**
 * Finds the stem modulus, in Pa, at which the median capacity by a calibration meets a required moment: the
 * requirement as it lies in the picture of stem against root.
 * @param predictors - what else the calibration predicts from; the prediction must grow with the modulus
 * @param sectionModulusM3 - at ground line
 * @param requiredMomentNm - above 0
 * @returns null where no modulus from 1 to 40 GPa does: the section decides, not the stem; and where the calibration gives no
 * strength, or one that does not follow from the modulus alone
 */
export function findRequiredModulus(
  calibration: Calibration,
  predictors: Omit<StrengthPredictors, 'modulusPa' | 'modulusPriorPa'>,
  sectionModulusM3: number,
  requiredMomentNm: number,
): number | null {
  const shareAt = (logModulus: number): number => {
    const modulusPa = { median: Math.exp(logModulus), logSd: 0 };
    const { modulusOfRupturePa } = calibration.predictModulusOfRupture({
      ...predictors,
      modulusPa,
      modulusPriorPa: null,
    });
    if (modulusOfRupturePa === null) return Number.NaN;
    // a line that falls below 0 has no strength there
    const momentNm = Math.max(0, medianOf(modulusOfRupturePa) * sectionModulusM3);
    return momentNm / (momentNm + requiredMomentNm);
  };
  const low = Math.log(SOFTEST_PA);
  const high = Math.log(STIFFEST_PA);
  if (!calibration.followsModulus || !(shareAt(low) <= MET && shareAt(high) >= MET)) return null;
  return Math.exp(solveIncreasing(shareAt, MET, low, high));
}
