import {
  fitRelation,
  measurementsOf,
  predictFromRelation,
  type RelationSpec,
  type StrengthDistribution,
} from '../../strength/index.ts';
import type { GatheredTest } from './gatherTests.ts';

export type Predicted = { readonly test: GatheredTest; readonly strengthPa: StrengthDistribution };
export type Unpredicted = { readonly testId: number; readonly reason: string };

/** Predicts each test by a relation that did not see its pole. */
export function predictWithoutOwnPole(
  tests: readonly GatheredTest[],
  spec: RelationSpec,
): { predicted: Predicted[]; unpredicted: Unpredicted[] } {
  const predicted: Predicted[] = [];
  const unpredicted: Unpredicted[] = [];
  for (const poleId of new Set(tests.map(({ row }) => row.poleId))) {
    const others = tests.filter(({ row }) => row.poleId !== poleId).map(({ row }) => row);
    const basis = fitRelation(others, spec);
    for (const test of tests.filter(({ row }) => row.poleId === poleId)) {
      const prediction = predictFromRelation(basis, { ...measurementsOf(test.row), isBare: true });
      if (prediction.modulusOfRupturePa === null)
        unpredicted.push({ testId: test.testId, reason: prediction.withheldBecause });
      else predicted.push({ test, strengthPa: prediction.modulusOfRupturePa });
    }
  }
  return { predicted, unpredicted };
}
