import type { RelationBasis } from '../relation/fitRelation.ts';
import {
  modulusErrorVariance,
  type PoleMeasurements,
  readPredictor,
  stiffnessPredictorOf,
} from '../relation/predictors.ts';
import type { VisitedPole } from './valueOfSecondVisit.ts';

/**
 * Takes from a relation how much of a prediction's spread the measurement of the pole's modulus makes, and what another measurement as good
 * would err by, on the scale of the fit: slope times the standard deviation of the true modulus given its measurement (variance B E / (B + E), B
 * between poles, E the error's), and slope times the error itself.
 * @returns null where the relation does not tell: it ignores the error of the modulus or does without one, or the pole's has no error stated
 */
export function measurementPart(
  { spec, relation }: RelationBasis,
  pole: PoleMeasurements,
): Required<Pick<VisitedPole, 'measurementSd' | 'visitErrorSd'>> | null {
  const stiffness = stiffnessPredictorOf(spec);
  const at = stiffness === null ? -1 : relation.terms.indexOf(stiffness);
  if (stiffness === null || at < 0 || relation.modulusError === null || pole.modulusPa === null) return null;
  const value = readPredictor(stiffness, spec.form, pole);
  if (value === null) return null;
  const error = modulusErrorVariance(spec.form, value, pole.modulusPa);
  const between = relation.modulusError.polesVariance;
  const slope = Math.abs(relation.coefficients[at]!);
  if (!(error > 0 && Number.isFinite(error) && slope > 0)) return null;
  return {
    measurementSd: slope * Math.sqrt((between * error) / (between + error)),
    visitErrorSd: slope * Math.sqrt(error),
  };
}
