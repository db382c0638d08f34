import { StemrootError } from '../../core/errors.ts';
import {
  type BreakTestRow,
  type FittedRelation,
  fitRelation,
  type RelationSpec,
} from '../../core/strength/index.ts';

/** Fits a relation; null where a drawn series does not give one: too few tests of a species, or errors that explain the scatter of E. */
export function fitOrNull(tests: readonly BreakTestRow[], spec: RelationSpec): FittedRelation | null {
  try {
    return fitRelation(tests, spec);
  } catch (error) {
    if (error instanceof StemrootError) return null;
    throw error;
  }
}
