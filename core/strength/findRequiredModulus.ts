import type { Calibration, StrengthPredictors } from './calibration.ts';
import { medianOf } from './distribution/strengthDistribution.ts';

/** No pole wood is softer or stiffer: where the answer would lie outside, there is none. */
const SOFTEST_PA = 1e9;
const STIFFEST_PA = 4e10;

/** Halvings of the range of ln E: leaves 4e-12 of it. */
const HALVINGS = 40;

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
  const marginAt = (logModulus: number): number => {
    const modulusPa = { median: Math.exp(logModulus), logSd: 0 };
    const { modulusOfRupturePa } = calibration.predictModulusOfRupture({
      ...predictors,
      modulusPa,
      modulusPriorPa: null,
    });
    if (modulusOfRupturePa === null) return Number.NaN;
    return medianOf(modulusOfRupturePa) * sectionModulusM3 - requiredMomentNm;
  };
  let low = Math.log(SOFTEST_PA);
  let high = Math.log(STIFFEST_PA);
  if (!calibration.followsModulus || !(marginAt(low) <= 0 && marginAt(high) >= 0)) return null;
  for (let halving = 0; halving < HALVINGS; halving++) {
    const middle = (low + high) / 2;
    if (marginAt(middle) < 0) low = middle;
    else high = middle;
  }
  return Math.exp((low + high) / 2);
}
