import { FitError } from '../../errors.ts';
import type { BreakTestRow } from '../relation/breakTestRow.ts';
import { fitRelation } from '../relation/fitRelation.ts';
import { predictByLine } from '../relation/predictByLine.ts';
import { measurementsOf } from '../relation/predictors.ts';
import { readStrengthPa } from '../relation/prepareRows.ts';
import type { RelationSpec } from '../relation/relationSpec.ts';
import type { HeldOutTest } from './heldOutTest.ts';

/**
 * Predicts each test by a relation fitted to the tests of all other folds; every step of the fit is repeated. The line is asked wherever a test
 * lies: judged by the tests within reach of the others alone, a relation would look better than it is.
 * @param rows - tests that the relation can use
 * @param folds - fold of each row; tests of one pole must share theirs
 */
export function predictHeldOut(
  rows: readonly BreakTestRow[],
  spec: RelationSpec,
  folds: readonly number[],
): HeldOutTest[] {
  const result = new Array<HeldOutTest>(rows.length);
  for (const fold of new Set(folds)) {
    const predict = fitOthers(
      rows.filter((_, i) => folds[i] !== fold),
      spec,
    );
    for (const [i, row] of rows.entries()) {
      if (folds[i] === fold) result[i] = predict(row);
    }
  }
  return result;
}

/** @returns a prediction by these tests; it withholds everything where they are too few */
export function fitOthers(
  others: readonly BreakTestRow[],
  spec: RelationSpec,
): (row: BreakTestRow) => HeldOutTest {
  const describe = (row: BreakTestRow) => ({
    id: row.id,
    poleId: row.poleId,
    measuredPa: readStrengthPa(row, spec.response),
  });
  try {
    const basis = fitRelation(others, spec);
    return (row) => {
      const prediction = predictByLine(basis, measurementsOf(row));
      return {
        ...describe(row),
        strengthPa: prediction.modulusOfRupturePa,
        withheldBecause: prediction.modulusOfRupturePa === null ? prediction.withheldBecause : null,
      };
    };
  } catch (error) {
    // a fold may hold all that tells two predictors apart: then nothing is predicted of it, and that is a result
    if (!(error instanceof FitError)) throw error;
    return (row) => ({ ...describe(row), strengthPa: null, withheldBecause: error.message });
  }
}
