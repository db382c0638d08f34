import type { KnownStrength, StrengthPrediction, StrengthPredictors } from '../calibration.ts';
import { findBeyond, isAmongSoftest } from './findBeyond.ts';
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
import { tellShift } from './tellContributions.ts';

const AMONG_SOFTEST =
  'Among the softest tenth of the tested poles, or softer: a stem that decay has softened all through measures the same and is weaker than this tells. Look for decay.';

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
  const reach = reachOf(basis);
  const beyond = findBeyond(reach, basis, pole);
  if (typeof beyond === 'string') return withhold(beyond);
  const warnings = [
    ...(beyond === null ? [] : [beyond.text]),
    ...(isAmongSoftest(reach, basis, pole) ? [AMONG_SOFTEST] : []),
    ...line.warnings,
    ...listWarnings(basis, pole),
  ];
  const edge = beyond?.atEdge ? predictByLine(basis, pole, beyond.atEdge) : null;
  if (edge === null || edge.modulusOfRupturePa === null) return { ...line, warnings };
  return { ...holdAtEdge(basis, line, edge, beyond!.fall), warnings };
}

/** Strength as at the nearest point inside, less what a softer pole falls short of it; never more than the line tells. */
function holdAtEdge(
  { spec }: RelationBasis,
  line: KnownStrength,
  edge: KnownStrength,
  fall: number,
): KnownStrength {
  const { centre: atEdge } = edge.modulusOfRupturePa;
  const { modulusOfRupturePa } = line;
  const centre = Math.min(modulusOfRupturePa.centre, atEdge - fall);
  const further = tellShift(spec.form, centre - atEdge);
  return {
    ...line,
    // what the line would add up beyond the tests is not what is told
    because: [
      ...edge.because.map((text) => `At the edge of the tests, ${text}`),
      ...(further === null ? [] : [`From there to this pole: strength ${further}.`]),
    ],
    modulusOfRupturePa: { ...modulusOfRupturePa, centre },
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
