import { StemrootError } from '../../errors.ts';
import type { BreakTestRow } from '../relation/breakTestRow.ts';
import { type FittedRelation, fitRelation } from '../relation/fitRelation.ts';
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
  /** Tests that all candidates that can be fitted can use, and that these were fitted to. */
  readonly commonTests: number;
  /** Tests that one of these cannot use, and that none of them was given. */
  readonly leftOut: readonly string[];
};

/**
 * Judges candidate relations on the same tests, those that every one of them can use: errors over different tests cannot be compared.
 * A candidate that cannot be fitted to all tests that it can use carries its reason, and takes no test from the others.
 */
export function compareRelations(
  rows: readonly BreakTestRow[],
  candidates: readonly RelationSpec[],
): Comparison {
  const alone = candidates.map((spec) => judge(rows, spec));
  const unusable = new Set(alone.flatMap(({ fit }) => fit?.leftOut.map(({ id }) => id) ?? []));
  const common = rows.filter(({ id }) => !unusable.has(id));
  return {
    relations: alone.map((own) => (own.fit && unusable.size > 0 ? judge(common, own.spec) : own)),
    commonTests: common.length,
    leftOut: rows.filter(({ id }) => unusable.has(id)).map(({ id }) => id),
  };
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
