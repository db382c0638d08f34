import type { RelationFit } from './calibrationDocument.ts';
import { fitGrouped, type GroupedFit } from './fitGrouped.ts';
import type { PreparedRow } from './prepareRows.ts';
import type { RelationSpec } from './relationSpec.ts';

export type ModulusErrorModel = NonNullable<RelationFit['modulusError']>;

/**
 * Where the errors of the tests explain the whole scatter of their moduli, the true ones are still taken to differ by this share
 * of the scatter's variance (ours): without any the slope would be undefined.
 */
const LEAST_TRUE_SHARE = 0.1;

/**
 * Replaces measured moduli by what is to be expected of the true ones, given the measurement and everything else that the
 * relation uses (regression calibration: Carroll, Ruppert, Stefanski and Crainiceanu 2006, Measurement Error in Nonlinear Models,
 * ch. 4; Fuller 1987, Measurement Error Models, 2.2; both from memory). True moduli are normal about a linear function of the
 * other predictors and the groups; the scatter of measured ones about it, less the mean error variance, is theirs.
 * With one error variance for all tests the replaced values are a linear function of the rest and the measured ones, so
 * that fit, residuals and leverages are those of plain least squares: for a pole measured as well as the tests, the plain regression is right.
 * @param at - index of the predictor that carries the error
 */
export function calibrateModulus(
  rows: readonly PreparedRow[],
  spec: RelationSpec,
  at: number,
): { values: number[][]; model: ModulusErrorModel } {
  const others = rows.map(({ values }) => values.filter((_, j) => j !== at));
  const measured = rows.map(({ values }) => values[at]!);
  const fit = fitGrouped({
    rows: rows.map((row) => ({ ...row, weight: 1 })),
    response: measured,
    values: others,
    names: spec.predictors.filter((_, j) => j !== at),
    spec,
    estimator: 'ordinary',
  });
  const scatter = fit.residualScale ** 2;
  const meanError = rows.reduce((sum, { errorVariance }) => sum + errorVariance, 0) / rows.length;
  const polesVariance = Math.max(scatter - meanError, LEAST_TRUE_SHARE * scatter);
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

function sumGroupVariances({ groups }: GroupedFit): number {
  return groups.reduce((sum, { variance }) => sum + (variance ?? 0), 0);
}
