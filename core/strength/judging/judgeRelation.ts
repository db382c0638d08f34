import type { FittedRelation } from '../relation/fitRelation.ts';
import { type Diagnosis, diagnoseTests } from './diagnoseTests.ts';
import { foldPoles } from './foldPoles.ts';
import type { HeldOutTest } from './heldOutTest.ts';
import { leaveOneOut } from './leaveOneOut.ts';
import { predictHeldOut } from './predictHeldOut.ts';
import { type PredictionScore, scorePredictions } from './scorePredictions.ts';

export type JudgedRelation = {
  readonly tests: number;
  readonly poles: number;
  /** Coefficients; a pooled level counts for the part of it that the tests decide. */
  readonly effectiveTerms: number;
  /** Share of the scatter of strengths, on the scale of the fit, that the relation takes up; and the same corrected for its terms. */
  readonly rSquared: number;
  readonly adjustedRSquared: number;
  /** Standard deviation of one pole about the relation, on the scale of the fit: ln strength, or Pa. */
  readonly standardError: number;
  readonly leaveOneOut: PredictionScore;
  readonly folds: PredictionScore & { readonly folds: number };
  readonly heldOut: readonly HeldOutTest[];
  readonly diagnosis: Diagnosis;
};

/** Common choice: a bias by the smaller fits of a few per cent, and little variance (Hastie, Tibshirani and Friedman 2009, 7.10, from memory). */
const FOLDS = 10;
/** The mean of the tests explains nothing of them, but for this. */
const ROUNDING = 1e-12;

/** Judges a relation by the tests at hand: how well it fits, and how well it foretells poles that it has not seen. */
export function judgeRelation(fit: FittedRelation, seed = 1): JudgedRelation {
  const { tests, relation, rows, spec } = fit;
  const weights = tests.reduce((sum, { weight }) => sum + weight, 0);
  const mean = tests.reduce((sum, { weight, response }) => sum + weight * response, 0) / weights;
  const total = tests.reduce((sum, { weight, response }) => sum + weight * (response - mean) ** 2, 0);
  const left = tests.reduce((sum, { weight, residual }) => sum + weight * residual ** 2, 0);
  const effectiveTerms = tests.reduce((sum, { leverage }) => sum + leverage, 0);
  const folds = foldPoles(rows, FOLDS, seed);
  const heldOut = leaveOneOut(fit);
  return {
    tests: tests.length,
    poles: fit.range.poles,
    effectiveTerms,
    rSquared: Math.abs(1 - left / total) < ROUNDING ? 0 : 1 - left / total,
    adjustedRSquared: 1 - left / relation.degreesOfFreedom / (total / (tests.length - 1)),
    standardError: relation.residualScale,
    leaveOneOut: scorePredictions(heldOut),
    folds: {
      ...scorePredictions(predictHeldOut(rows, spec, folds)),
      folds: new Set(folds).size,
    },
    heldOut,
    diagnosis: diagnoseTests(fit),
  };
}
