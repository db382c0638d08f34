import {
  compareRelations,
  describeRelation,
  estimateOf,
  type FittedRelation,
  type HeldOutTest,
  type JudgedRelation,
  type PredictionScore,
  type RelationSpec,
} from '../../strength/index.ts';
import type { CallResponse } from '../contract.ts';
import { describeSpans } from './describeRange.ts';
import type { GatheredTest } from './gatherTests.ts';
import { tellFormula } from './tellFormula.ts';

type Tried = CallResponse<'calibration.tryRelations'>;
type Judged = NonNullable<Tried['relations'][number]['judged']>;

/** Judges candidates on the tests that all of them can use, and says what each tells of every test. */
export function judgeCandidates(
  candidates: readonly { name: string; spec: RelationSpec }[],
  tests: readonly GatheredTest[],
): Tried {
  const testIds = new Map(tests.map(({ testId, row }) => [row.id, testId]));
  const { relations, commonTests, leftOut } = compareRelations(
    tests.map(({ row }) => row),
    candidates.map(({ spec }) => spec),
  );
  return {
    commonTests,
    unused: leftOut.map((id) => testIds.get(id)!),
    relations: relations.map(({ fit, judged, problem }, i) => ({
      name: candidates[i]!.name,
      problem: problem && { code: problem.code, message: problem.message, hint: problem.hint },
      judged: fit && describe(fit, judged, testIds),
    })),
  };
}

function describe(fit: FittedRelation, judged: JudgedRelation, testIds: ReadonlyMap<string, number>): Judged {
  const { spec, relation, range } = fit;
  return {
    poles: judged.poles,
    about: describeRelation(fit),
    ...tellFormula(fit),
    groups: relation.groups.map(({ factor, treatedAs, levels }) => ({
      factor,
      treatedAs,
      levels: levels.map(({ level, poles, effect }) => ({ level, poles, effect })),
    })),
    rSquared: judged.rSquared,
    standardError: judged.standardError,
    standardErrorUnit: spec.form === 'log-linear' ? 'ln' : 'Pa',
    leaveOneOut: tellScore(judged.leaveOneOut),
    folds: { ...tellScore(judged.folds), folds: judged.folds.folds },
    tests: fit.tests.map((test, i) => {
      const { studentisedResidual, normalQuantile, leverage, cooksDistance, distance } =
        judged.diagnosis.tests[i]!;
      return {
        testId: testIds.get(test.id)!,
        measuredPa: judged.heldOut[i]!.measuredPa,
        fittedPa: spec.form === 'log-linear' ? Math.exp(test.fitted) : test.fitted,
        ...tellHeldOut(judged.heldOut[i]!),
        residual: finite(studentisedResidual),
        normalQuantile,
        leverage,
        cooksDistance: finite(cooksDistance),
        distance,
        weight: test.robustWeight,
      };
    }),
    influenceLimits: { ...judged.diagnosis.limits },
    range: describeSpans(fit),
    distanceLimit: range.distanceLimit,
    notes: [...relation.notes],
  };
}

function tellHeldOut({ strengthPa }: HeldOutTest) {
  if (strengthPa === null) return { predictedPa: null, lowPa: null, highPa: null };
  const { value, low, high } = estimateOf(strengthPa);
  return { predictedPa: value, lowPa: low, highPa: high };
}

function tellScore({ rootMeanSquareShare, biasShare, insideInterval, withheld }: PredictionScore) {
  return {
    rootMeanSquareShare: finite(rootMeanSquareShare),
    biasShare: finite(biasShare),
    insideInterval: finite(insideInterval),
    withheld,
  };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
