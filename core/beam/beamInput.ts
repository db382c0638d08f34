import type { GivenRoot, RootForm } from './rootMatrix.ts';
import type { StemShape } from './stemShape.ts';

/** Geometry of a beam: all that its parameters (see BeamValues) do not scale. */
export type BeamInput = {
  readonly lengthAboveM: number;
  readonly shape: StemShape;
  readonly root: RootForm | GivenRoot;
  /** E / (kappa G), dimensionless; null: Euler-Bernoulli, no shear and no rotary inertia. */
  readonly shearFlexibility: number | null;
  /** Heights in m of lumped masses and of lateral springs, above ground line. */
  readonly massHeightsM: readonly number[];
  readonly springHeightsM: readonly number[];
  readonly selfWeight: boolean;
};
