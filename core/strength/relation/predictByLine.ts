import type { StrengthPrediction } from '../calibration.ts';
import type { RelationFit } from './calibrationDocument.ts';
import { INTERCEPT, levelTerm } from './fitGrouped.ts';
import type { RelationBasis } from './fitRelation.ts';
import {
  modulusErrorVariance,
  type PoleMeasurements,
  PREDICTOR_INFO,
  readPredictor,
  stiffnessPredictorOf,
} from './predictors.ts';
import { groupedFactorsOf, levelOf } from './prepareRows.ts';
import type { PredictorName, RelationSpec } from './relationSpec.ts';
import { tellContributions } from './tellContributions.ts';

/**
 * From fewer tested groups than this nothing can be said of how far a further one may be off (ours; variances between
 * fewer than five groups are hardly estimable: Gelman and Hill 2007, Data Analysis Using Regression, 12.5, from memory).
 */
const FEWEST_GROUPS = 5;

/** A difference of variances below this share of them is rounding. */
const ROUNDING = 1e-9;

/**
 * Predicts the strength of one pole by the line of a relation, wherever the pole lies: centre c'b; Student part s sqrt(1 + h), h = c'(cov b)c / s^2, with the degrees of
 * freedom of the fit (relation and parameter error, exact for normal errors); normal part for what the pole's own modulus is less sure
 * than those of the tests, (b^2 + var b)(v - mean v), and for a group that was not tested. Where the error of the modulus is ignored, v is
 * the error of the measurement itself. A modulus that is surer than those of the tests changes nothing: the tests do not tell by how much.
 * Withheld where something that the relation needs was not measured, or the pole's group was not tested.
 * @param pole - modulus as measured, its prior taken out, and known to less than endlessly wide
 * @param measured - predictors on the scale of the fit. @default those of the pole
 */
export function predictByLine(
  basis: RelationBasis,
  pole: PoleMeasurements,
  measured?: readonly number[],
): StrengthPrediction {
  const { spec, relation } = basis;
  const values = new Map<string, number>([[INTERCEPT, 1]]);
  for (const [j, name] of spec.predictors.entries()) {
    const value = measured?.[j] ?? readPredictor(name, spec.form, pole);
    if (value === null) {
      return withhold(
        `The calibration predicts from ${PREDICTOR_INFO[name].label}, which is not known of this pole.`,
      );
    }
    values.set(name, value);
  }
  const warnings: string[] = [];
  let groupVariance = 0;
  let isOfNewGroup = false;
  for (const factor of groupedFactorsOf(spec)) {
    const group = relation.groups.find((candidate) => candidate.factor === factor)!;
    const level = levelOf(factor, pole);
    if (group.levels.some((known) => known.level === level)) {
      values.set(levelTerm(factor, level!), 1);
      continue;
    }
    const named = level === null ? `${factor} is not stated` : `no tested pole is of ${factor} ${level}`;
    if (group.newGroupVariance === null || group.levels.length < FEWEST_GROUPS) {
      return withhold(
        `The calibration tells poles apart by ${factor}, and ${named}; it holds ${group.levels.map((l) => l.level).join(', ')}.`,
      );
    }
    isOfNewGroup = true;
    groupVariance += group.newGroupVariance;
  }

  const stiffness = stiffnessPredictorOf(spec);
  let errorVariance = 0;
  if (stiffness !== null && relation.modulusError !== null) {
    const model = relation.modulusError;
    const expected = expectModulus(model, relation, spec, stiffness, values, pole, isOfNewGroup);
    values.set(stiffness, expected.mean);
    const excess = expected.variance - model.remainingVariance;
    if (excess > ROUNDING * expected.variance) {
      errorVariance = excess * squareOf(combine(relation, new Map([[stiffness, 1]])));
    }
  } else if (stiffness !== null) {
    const { logSd } = pole.modulusPa!;
    const excess = logSd ** 2 - (relation.testsModulusLogSd ?? 0) ** 2;
    if (excess > ROUNDING * logSd ** 2) {
      errorVariance = excess * squareOf(combine(relation, slopesOnLogModulus(spec, values)));
      warnings.push(
        `The modulus of this pole is known to ${showShare(logSd)}, ${
          relation.testsModulusLogSd === null
            ? 'and the tests do not state how well theirs are'
            : `those of the tests to ${showShare(relation.testsModulusLogSd)}`
        }: the interval is wider by the difference.`,
      );
    }
  }

  const { centre, variance } = combine(relation, values);
  const leverage = variance / relation.residualScale ** 2;
  return {
    modulusOfRupturePa: {
      scale: spec.form === 'log-linear' ? 'log' : 'linear',
      centre,
      normalSd: Math.sqrt(errorVariance + groupVariance),
      studentScale: relation.residualScale * Math.sqrt(1 + leverage),
      degreesOfFreedom: relation.degreesOfFreedom,
    },
    leverage,
    because: tellContributions(basis, values),
    warnings,
  };
}

/** What is to be expected of the true modulus: the measurement against other poles alike, weighted by their variances. */
function expectModulus(
  model: NonNullable<RelationFit['modulusError']>,
  { testsModulusLogSd }: RelationFit,
  spec: RelationSpec,
  name: PredictorName,
  values: ReadonlyMap<string, number>,
  pole: PoleMeasurements,
  isOfNewGroup: boolean,
): { mean: number; variance: number } {
  const mean = model.terms.reduce(
    (sum, term, i) => sum + model.coefficients[i]! * (values.get(term) ?? 0),
    0,
  );
  const between = model.polesVariance + (isOfNewGroup ? model.groupVariance : 0);
  const measured = values.get(name)!;
  // the slope on true moduli was never seen, only inferred from the errors that the tests state: a surer pole is taken for as sure as they are
  const logSd = Math.max(pole.modulusPa!.logSd, testsModulusLogSd!);
  const error = modulusErrorVariance(spec.form, measured, { median: pole.modulusPa!.median, logSd });
  const share = between / (between + error);
  return { mean: mean + share * (measured - mean), variance: share * error };
}

/** By how much each predictor moves on its scale where ln modulus moves by 1. */
function slopesOnLogModulus(
  { predictors, form }: RelationSpec,
  values: ReadonlyMap<string, number>,
): Map<string, number> {
  return new Map(
    predictors
      .filter((name) => stiffnessPredictorOf({ predictors: [name] }) !== null)
      .map((name) => [name, form === 'log-linear' ? 1 : values.get(name)!]),
  );
}

/** Mean square of a combination of coefficients. */
function squareOf({ centre, variance }: { centre: number; variance: number }): number {
  return centre ** 2 + variance;
}

function showShare(logSd: number): string {
  return `${(100 * Math.expm1(logSd)).toFixed(0)} %`;
}

function combine(
  { terms, coefficients, covariance }: RelationFit,
  values: ReadonlyMap<string, number>,
): { centre: number; variance: number } {
  const c = terms.map((term) => values.get(term) ?? 0);
  let centre = 0;
  let variance = 0;
  for (let i = 0; i < c.length; i++) {
    if (c[i] === 0) continue;
    centre += c[i]! * coefficients[i]!;
    for (let j = 0; j < c.length; j++) variance += c[i]! * c[j]! * covariance[i]![j]!;
  }
  // rounding may leave a variance of nothing below 0
  return { centre, variance: Math.max(0, variance) };
}

export function withhold(withheldBecause: string): { modulusOfRupturePa: null; withheldBecause: string } {
  return { modulusOfRupturePa: null, withheldBecause };
}
