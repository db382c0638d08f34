import { describeReach, type Reach } from './describeReach.ts';
import type { RelationBasis } from './fitRelation.ts';

/** Thousands of poles are predicted from one relation, and its tests never change. */
const reaches = new WeakMap<RelationBasis, Reach>();

/** The reach of a relation, worked out at the first question. */
export function reachOf(basis: RelationBasis): Reach {
  const reach = reaches.get(basis) ?? describeReach(basis);
  reaches.set(basis, reach);
  return reach;
}
