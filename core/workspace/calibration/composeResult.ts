import type { Assessment, StemRootPicture } from '../../assessment.ts';
import type { StrengthConclusion } from '../../concludeOnStrength.ts';

/** What a recomputed assessment holds: all that differs from the assessment whose stem and root it rests on. */
export type RecomputedResult = StrengthConclusion & {
  /** Why strength differs from that of the assessment before, in plain sentences. */
  readonly reasons: readonly string[];
};

/** A recomputed result as a whole: stem, root and all else of its basis, strength and requirement its own. */
export function composeResult(
  basis: Assessment,
  { requiredModulusPa: _, reasons: __, ...own }: RecomputedResult,
): Assessment {
  return { ...basis, ...own };
}

/** The picture of the basis, with the requirement where the other calibration puts it. */
export function composePicture(
  basis: StemRootPicture,
  { requiredModulusPa }: RecomputedResult,
): StemRootPicture {
  return { ...basis, requiredModulusPa };
}
