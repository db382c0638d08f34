import type { StrengthPrediction, StrengthPredictors } from '../calibration.ts';
import type { RelationFit } from './calibrationDocument.ts';
import { distanceFromTests } from './describeRange.ts';
import { INTERCEPT, levelTerm } from './fitGrouped.ts';
import type { RelationBasis } from './fitRelation.ts';
import {
  modulusErrorVariance,
  type PoleMeasurements,
  PREDICTOR_INFO,
  readBack,
  readPredictor,
  showPredictor,
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
 * Predicts the strength of one pole from a relation: centre c'b; Student part s sqrt(1 + h), h = c'(cov b)c / s^2, with the degrees of
 * freedom of the fit (relation and parameter error, exact for normal errors); normal part for what the pole's own modulus is less sure
 * than those of the tests, (b^2 + var b)(v - mean v), and for a group that was not tested. A modulus that is surer than those of
 * the tests narrows nothing: the tests do not tell by how much.
 * Withheld where something that the relation needs was not measured, or the pole's group was not tested.
 * @param pole - modulus as measured, its prior taken out where the relation acknowledges its error
 */
export function predictFromRelation(
  { spec, relation, range }: RelationBasis,
  pole: PoleMeasurements & Pick<StrengthPredictors, 'isBare'>,
): StrengthPrediction {
  const values = new Map<string, number>([[INTERCEPT, 1]]);
  for (const name of spec.predictors) {
    const value = readPredictor(name, spec.form, pole);
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
    if (group.variance === null || group.levels.length < FEWEST_GROUPS) {
      return withhold(
        `The calibration tells poles apart by ${factor}, and ${named}; it holds ${group.levels.map((l) => l.level).join(', ')}.`,
      );
    }
    isOfNewGroup = true;
    // the variance of n groups is itself unsure: that of a t with n - 1 degrees of freedom stands for it
    const groups = group.levels.length;
    groupVariance += (group.variance * (groups - 1)) / (groups - 3);
    warnings.push(
      `Of ${groups} groups by ${factor} tested, none is that of this pole (${named}): the interval is wider.`,
    );
  }

  const stiffness = relation.modulusError === null ? null : stiffnessPredictorOf(spec);
  let excessVariance = 0;
  if (stiffness !== null) {
    const { expected, variance } = expectModulus(
      relation.modulusError!,
      spec,
      stiffness,
      values,
      pole,
      isOfNewGroup,
    );
    values.set(stiffness, expected);
    const excess = variance - relation.modulusError!.remainingVariance;
    excessVariance = excess > ROUNDING * variance ? excess : 0;
  }

  const { centre, variance } = combine(relation, values);
  const at = stiffness === null ? -1 : relation.terms.indexOf(stiffness);
  const slopeSquare = at < 0 ? 0 : relation.coefficients[at]! ** 2 + relation.covariance[at]![at]!;
  const leverage = variance / relation.residualScale ** 2;
  return {
    modulusOfRupturePa: {
      scale: spec.form === 'log-linear' ? 'log' : 'linear',
      centre,
      normalSd: Math.sqrt(slopeSquare * excessVariance + groupVariance),
      studentScale: relation.residualScale * Math.sqrt(1 + leverage),
      degreesOfFreedom: relation.degreesOfFreedom,
    },
    leverage,
    because: tellContributions({ spec, relation, range }, values),
    warnings: [...warnings, ...listWarnings({ spec, relation, range }, values, pole)],
  };
}

/** What is to be expected of the true modulus: the measurement against other poles alike, weighted by their variances. */
function expectModulus(
  model: NonNullable<RelationFit['modulusError']>,
  spec: RelationSpec,
  name: PredictorName,
  values: ReadonlyMap<string, number>,
  pole: PoleMeasurements,
  isOfNewGroup: boolean,
): { expected: number; variance: number } {
  const mean = model.terms.reduce(
    (sum, term, i) => sum + model.coefficients[i]! * (values.get(term) ?? 0),
    0,
  );
  const between = model.polesVariance + (isOfNewGroup ? model.groupVariance : 0);
  const measured = values.get(name)!;
  const error = modulusErrorVariance(spec.form, measured, pole.modulusPa!);
  if (error === Number.POSITIVE_INFINITY) return { expected: mean, variance: between };
  const share = between / (between + error);
  return { expected: mean + share * (measured - mean), variance: share * error };
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

function listWarnings(
  { spec, range }: RelationBasis,
  values: ReadonlyMap<string, number>,
  pole: PoleMeasurements & Pick<StrengthPredictors, 'isBare'>,
): string[] {
  const warnings: string[] = [];
  const ofPole = spec.predictors.map((name) => values.get(name)!);
  const distance = distanceFromTests(range, ofPole);
  if (range.distanceLimit !== null && distance > range.distanceLimit) {
    warnings.push(
      `This pole is unlike the ${range.poles} tested ones: ${distance.toFixed(1)} standard deviations from their mean over all predictors together, ` +
        `where one in a hundred of their kind is beyond ${range.distanceLimit.toFixed(1)}. The relation is carried beyond its tests.`,
    );
  }
  for (const [j, { name, min, max }] of range.predictors.entries()) {
    const back = (value: number) => readBack(name, spec.form, value);
    warnings.push(...warnOutside(name, back(ofPole[j]!), back(min), back(max)));
  }
  for (const { name, min, max } of range.conditions) {
    const value = PREDICTOR_INFO[name].read(pole);
    warnings.push(...warnOutside(name, value, min, max));
  }
  if (!pole.isBare && spec.predictors.some((name) => name.startsWith('frequency'))) {
    warnings.push(
      'Cables or equipment move the frequencies of this pole; the tested ones were bare. The prediction is off by as much.',
    );
  }
  if (range.piece === 'specimen') {
    warnings.push(
      'The tests broke specimens cut from poles, without the knots and checks of a pole: a pole carries less than this.',
    );
  }
  if (spec.response === 'modulusOfRupture') {
    warnings.push(
      'The tests tell the stress where they broke; a pole that breaks above ground line carries less than this.',
    );
  }
  return warnings;
}

function warnOutside(name: PredictorName, value: number | null, min: number, max: number): string[] {
  const { label } = PREDICTOR_INFO[name];
  const span = `the tested poles had ${showPredictor(name, min)} to ${showPredictor(name, max)}`;
  if (value === null) return [`Not known: ${label}; ${span}.`];
  if (value >= min && value <= max) return [];
  return [`Outside of the tests: ${label} ${showPredictor(name, value)}; ${span}.`];
}

function withhold(withheldBecause: string): StrengthPrediction {
  return { modulusOfRupturePa: null, withheldBecause };
}
