import type { Calibration, StrengthPredictors } from './calibration.ts';
import { solveIncreasing } from './distribution/solveIncreasing.ts';
import { medianOf } from './distribution/strengthDistribution.ts';

/** No pole wood is softer or stiffer: where the answer would lie outside, there is none. */
const SOFTEST_PA = 1e9;
const STIFFEST_PA = 4e10;

/** The ends of what a calibration speaks of are found to this share of the modulus. */
const END_WITHIN = 5e-3;

/** Share of capacity in the sum of capacity and requirement where they are equal. */
const MET = 0.5;

/**
 * Finds the stem modulus, in Pa, at which the median capacity by a calibration meets a required moment: the
 * requirement as it lies in the picture of stem against root.
 * @param predictors - of the pole at hand, which the calibration speaks of; the prediction must not fall where the modulus grows
 * @param sectionModulusM3 - at ground line
 * @param requiredMomentNm - above 0
 * @returns null where no modulus from 1 to 40 GPa does: the section decides, not the stem; where none does that the calibration speaks of;
 * and where it gives no strength, or one that does not follow from the modulus alone
 */
export function findRequiredModulus(
  calibration: Calibration,
  predictors: Omit<StrengthPredictors, 'modulusPriorPa'>,
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
  if (!calibration.followsModulus) return null;
  const own = Math.log(predictors.modulusPa.median);
  const isShort = shareAt(own) <= MET;
  // the answer is on one side of the pole: how far the calibration speaks on the other need not be known
  const findEnd = (farthest: number, isAsked: boolean) => {
    if (!Number.isNaN(shareAt(farthest))) return farthest;
    return isAsked ? findLastTold(shareAt, own, farthest) : own;
  };
  const low = findEnd(Math.log(SOFTEST_PA), !isShort);
  const high = findEnd(Math.log(STIFFEST_PA), isShort);
  if (!(shareAt(low) <= MET && shareAt(high) >= MET)) return null;
  return Math.exp(solveIncreasing(shareAt, MET, low, high));
}

/** How far a calibration speaks on the way from the pole's own modulus to the softest or stiffest: relations end with their tests. */
function findLastTold(shareAt: (logModulus: number) => number, own: number, farthest: number): number {
  let [speaks, silent] = [own, farthest];
  while (Math.abs(silent - speaks) > END_WITHIN) {
    const middle = (speaks + silent) / 2;
    if (Number.isNaN(shareAt(middle))) silent = middle;
    else speaks = middle;
  }
  return speaks;
}
