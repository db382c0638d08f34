import type { KnownStrength, StrengthPrediction, StrengthPredictors } from '../calibration.ts';
import { findBeyond } from './findBeyond.ts';
import type { RelationBasis } from './fitRelation.ts';
import { predictByLine, withhold } from './predictByLine.ts';
import {
  labelOfPole,
  type PoleMeasurements,
  PREDICTOR_INFO,
  showPredictor,
  stiffnessPredictorOf,
} from './predictors.ts';
import { reachOf } from './reachOf.ts';
import type { PredictorName } from './relationSpec.ts';

/**
 * Predicts the strength of one pole from a relation, by its line ({@link predictByLine}) and as far as its tests carry it ({@link describeReach}):
 * withheld where the pole is of a kind that too few tests are of, where its measurement tells nothing of it, and where it lies beyond the tests
 * and beyond their warning leverage. Just outside of the tests the line is not drawn on: a pole there has the strength of the nearest point
 * inside, less as many standard deviations of strength as it lies beyond in standard deviations of the predictors where it is softer or weaker
 * (the line without regression to the mean), with the interval of where it lies.
 * @param pole - modulus as measured, its prior taken out
 */
export function predictFromRelation(
  basis: RelationBasis,
  pole: PoleMeasurements & Pick<StrengthPredictors, 'isBare'>,
): StrengthPrediction {
  if (stiffnessPredictorOf(basis.spec) !== null && pole.modulusPa?.logSd === Number.POSITIVE_INFINITY) {
    return withhold(
      'The calibration predicts from the modulus of elasticity, and the measurement of this pole tells nothing of it. Measure again.',
    );
  }
  const line = predictByLine(basis, pole);
  if (line.modulusOfRupturePa === null) return line;
  const beyond = findBeyond(reachOf(basis), basis, pole);
  if (typeof beyond === 'string') return withhold(beyond);
  const warnings = [...line.warnings, ...listWarnings(basis, pole)];
  if (beyond === null) return { ...line, warnings };
  return {
    ...holdAtEdge(line, predictByLine(basis, pole, beyond.atEdge), beyond.fall),
    warnings: [beyond.text, ...warnings],
  };
}

/** Strength as at the nearest point inside, less what a softer pole falls short of it; never more than the line tells. */
function holdAtEdge(line: KnownStrength, edge: StrengthPrediction, fall: number): KnownStrength {
  const atEdge = edge.modulusOfRupturePa!.centre - fall;
  const { modulusOfRupturePa } = line;
  return {
    ...line,
    modulusOfRupturePa: { ...modulusOfRupturePa, centre: Math.min(modulusOfRupturePa.centre, atEdge) },
  };
}

function listWarnings(
  { spec, range }: RelationBasis,
  pole: PoleMeasurements & Pick<StrengthPredictors, 'isBare'>,
): string[] {
  const warnings = range.conditions.flatMap(({ name, min, max }) =>
    warnOutside(name, PREDICTOR_INFO[name].read(pole), min, max),
  );
  if (!pole.isBare && spec.predictors.some((name) => name.startsWith('frequency'))) {
    warnings.push(
      'Cables or equipment move the frequencies of this pole; the tested ones were bare. The prediction is off by as much.',
    );
  }
  return warnings;
}

function warnOutside(name: PredictorName, value: number | null, min: number, max: number): string[] {
  const { label } = PREDICTOR_INFO[name];
  const span = `the tested poles had ${showPredictor(name, min)} to ${showPredictor(name, max)}`;
  if (value === null) return [`Not known: ${label}; ${span}.`];
  if (value >= min && value <= max) return [];
  return [`Outside of the tests: ${labelOfPole(name)} ${showPredictor(name, value)}; ${span}.`];
}
