import { type FittedRelation, fitRelation, type RelationSpec } from '../../strength/index.ts';
import type { GatheredTest } from './gatherTests.ts';

/** Fits a relation to gathered tests, and counts those of them whose moment was taken with the whole arm. */
export function fitTests(
  tests: readonly GatheredTest[],
  spec: RelationSpec,
): { fit: FittedRelation; armsNotShortened: number } {
  const fit = fitRelation(
    tests.map(({ row }) => row),
    spec,
  );
  const used = new Set(fit.rows.map(({ id }) => id));
  return {
    fit,
    armsNotShortened: tests.filter(({ isArmWhole, row }) => isArmWhole && used.has(row.id)).length,
  };
}
