import { StemrootError } from '../../errors.ts';
import type { BreakTestRow } from '../relation/breakTestRow.ts';
import { type FittedRelation, fitRelation } from '../relation/fitRelation.ts';
import { prepareRows } from '../relation/prepareRows.ts';
import type { RelationSpec } from '../relation/relationSpec.ts';
import { type JudgedRelation, judgeRelation } from './judgeRelation.ts';

export type ComparedRelation =
  | {
      readonly spec: RelationSpec;
      readonly fit: FittedRelation;
      readonly judged: JudgedRelation;
      readonly problem: null;
    }
  | {
      readonly spec: RelationSpec;
      readonly fit: null;
      readonly judged: null;
      readonly problem: StemrootError;
    };

export type Comparison = {
  readonly relations: readonly ComparedRelation[];
  /** Tests that all candidates can use, and that all were fitted to. */
  readonly commonTests: number;
  /** Tests that some candidate cannot use, and that none was given. */
  readonly leftOut: readonly string[];
};

/**
 * Judges candidate relations on the same tests, those that every one of them can use: errors over different tests cannot be compared.
 * A candidate that cannot be fitted carries its reason.
 */
export function compareRelations(
  rows: readonly BreakTestRow[],
  candidates: readonly RelationSpec[],
): Comparison {
  const unusable = new Set(candidates.flatMap((spec) => listUnusable(rows, spec)));
  const common = rows.filter(({ id }) => !unusable.has(id));
  return {
    relations: candidates.map((spec) => judge(common, spec)),
    commonTests: common.length,
    leftOut: rows.filter(({ id }) => unusable.has(id)).map(({ id }) => id),
  };
}

/** A candidate whose choices contradict each other holds up none of the others. */
function listUnusable(rows: readonly BreakTestRow[], spec: RelationSpec): string[] {
  try {
    return prepareRows(rows, spec).leftOut.map(({ id }) => id);
  } catch (error) {
    if (error instanceof StemrootError) return [];
    throw error;
  }
}

function judge(rows: readonly BreakTestRow[], spec: RelationSpec): ComparedRelation {
  try {
    const fit = fitRelation(rows, spec);
    return { spec, fit, judged: judgeRelation(fit), problem: null };
  } catch (error) {
    if (error instanceof StemrootError) return { spec, fit: null, judged: null, problem: error };
    throw error;
  }
}
