import type { StrengthDistribution } from '../distribution/strengthDistribution.ts';

/** A break test beside what a relation that did not see its pole predicts of it. */
export type HeldOutTest = {
  readonly id: string;
  readonly poleId: string;
  readonly measuredPa: number;
  /** Null where the relation cannot speak of it: its group, for instance, is not among the others. */
  readonly strengthPa: StrengthDistribution | null;
  readonly withheldBecause: string | null;
};
