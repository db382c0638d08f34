import { FitError } from '../../errors.ts';
import type { RelationFit } from './calibrationDocument.ts';
import { fitGrouped, type GroupedFit } from './fitGrouped.ts';
import { median } from './median.ts';
import type { PreparedRow } from './prepareRows.ts';
import type { RelationSpec } from './relationSpec.ts';

export type ModulusErrorModel = NonNullable<RelationFit['modulusError']>;

/**
 * Where less than this share of the variance of a measured modulus is true, the correction multiplies the slope by more than its inverse, and by
 * what stated errors happen to be: too large ones make any slope (ours).
 */
const LEAST_TRUE_SHARE = 0.25;
/** The true variance is found to this share of it. */
const PRECISION = 1e-10;
/** Halving the logarithm of a variance ends by then. */
const MOST_STEPS = 50;

/**
 * Replaces measured moduli by what is to be expected of the true ones, given the measurement and everything else that the
 * relation uses (regression calibration: Carroll, Ruppert, Stefanski and Crainiceanu 2006, Measurement Error in Nonlinear Models,
 * ch. 4; Fuller 1987, Measurement Error Models, 2.2; both from memory). True moduli are normal about a linear function of the
 * other predictors and the groups, measured ones scatter by their own errors beside: the true variance is the one by which the weighted
 * squares are what they should be (Paule and Mandel 1982, J. Res. NBS 87:377, from memory), so that a test that was measured badly counts little.
 * With one error variance for all tests the replaced values are a linear function of the rest and the measured ones, so
 * that fit, residuals and leverages are those of plain least squares: for a pole measured as well as the tests, the plain regression is right.
 * @param at - index of the predictor that carries the error
 * @throws FitError `relation.modulusError` where the stated errors explain nearly all of the scatter
 */
export function calibrateModulus(
  rows: readonly PreparedRow[],
  spec: RelationSpec,
  at: number,
): { values: number[][]; model: ModulusErrorModel } {
  const others = rows.map(({ values }) => values.filter((_, j) => j !== at));
  const measured = rows.map(({ values }) => values[at]!);
  const { polesVariance, fit } = findTrueVariance(rows, (weights) =>
    fitGrouped({
      rows: rows.map((row, i) => ({ ...row, weight: weights[i]! })),
      response: measured,
      values: others,
      names: spec.predictors.filter((_, j) => j !== at),
      spec,
      estimator: 'ordinary',
    }),
  );
  const values = rows.map((row, i) => {
    const share = polesVariance / (polesVariance + row.errorVariance);
    const expected = fit.fitted[i]! + share * fit.residuals[i]!;
    return row.values.map((value, j) => (j === at ? expected : value));
  });
  const remainingVariance =
    rows.reduce((sum, { errorVariance: e }) => sum + (polesVariance * e) / (polesVariance + e), 0) /
    rows.length;
  return {
    values,
    model: {
      terms: [...fit.terms],
      coefficients: [...fit.coefficients],
      polesVariance,
      groupVariance: sumGroupVariances(fit),
      remainingVariance,
    },
  };
}

/** @param fitWeighted - of measured moduli; its scatter is that of a test of weight 1 */
function findTrueVariance(
  rows: readonly PreparedRow[],
  fitWeighted: (weights: readonly number[]) => GroupedFit,
): { polesVariance: number; fit: GroupedFit } {
  const errors = rows.map(({ errorVariance }) => errorVariance);
  const typical = median(errors);
  const plain = fitWeighted(errors.map(() => 1));
  const scatter = plain.residualScale ** 2;
  if (errors.every((error) => Math.abs(error - typical) <= PRECISION * scatter)) {
    return { polesVariance: refuseNoise(scatter - typical, typical), fit: plain };
  }
  // weights scatter / (true variance + own error) leave the scatter as it was where the true variance is right, and less where it is more
  const fitAt = (variance: number) => fitWeighted(errors.map((error) => scatter / (variance + error)));
  const isTooHigh = (fit: GroupedFit) => fit.residualScale ** 2 < scatter;
  const least = Math.max((typical * LEAST_TRUE_SHARE) / (1 - LEAST_TRUE_SHARE), PRECISION * scatter);
  if (isTooHigh(fitAt(least))) refuseNoise(0, typical);
  let [low, high] = [Math.log(least), Math.log(Math.max(scatter, least))];
  for (let step = 0; step < MOST_STEPS && high - low > PRECISION; step++) {
    const middle = (low + high) / 2;
    if (isTooHigh(fitAt(Math.exp(middle)))) high = middle;
    else low = middle;
  }
  const polesVariance = Math.exp((low + high) / 2);
  return { polesVariance, fit: fitAt(polesVariance) };
}

/** @throws FitError `relation.modulusError` */
function refuseNoise(polesVariance: number, errorVariance: number): number {
  if (polesVariance >= LEAST_TRUE_SHARE * (polesVariance + errorVariance)) return polesVariance;
  throw new FitError(
    'relation.modulusError',
    `The errors that the tests state of their moduli explain ${polesVariance > 0 ? 'nearly ' : ''}all of the scatter of these moduli: ` +
      'nothing tells how strength follows the true ones.',
    'Check the stated errors: they are standard errors of each pole’s own measurement. Else ignore the error of the modulus, or test poles that differ more.',
  );
}

function sumGroupVariances({ groups }: GroupedFit): number {
  return groups.reduce((sum, { newGroupVariance }) => sum + (newGroupVariance ?? 0), 0);
}
