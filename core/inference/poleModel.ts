import type { RootForm, StemShape } from '../beam/index.ts';
import type { RootChance } from './rootPrior.ts';

export type LognormalPrior = { readonly median: number; readonly logSd: number; readonly source: string };

/** Where a value is from: a field of the visit file, and whether that field held it. */
type Origin = { readonly setBy: string; readonly isGiven: boolean };

/** A mass on the pole that moves in both planes. */
export type PointMass = {
  readonly heightM: number;
  readonly massKg: number;
  readonly logSd: number;
  readonly origin: Origin;
};

/** A cable as a lateral spring: its stiffness along its own azimuth. */
export type CableSpring = {
  readonly heightM: number;
  readonly azimuthDeg: number;
  readonly stiffnessNPerM: number;
  readonly logSd: number;
  readonly origin: Origin;
};

/**
 * A pole as the fit sees it before any recording: geometry with its uncertainty, priors of stem and root, what hangs on it.
 */
export type PoleModel = {
  readonly lengthM: number;
  readonly settingDepthM: number;
  readonly settingDepthSdM: number;
  readonly settingDepthSource: string;
  /** Stations from ground line to tip; `shapeForTip` gives the same girths measured, with the tip diameter changed by so much. */
  readonly shape: StemShape;
  readonly shapeForTip: (tipDiameterChangeM: number) => StemShape;
  readonly tipDiameterSdM: number;
  readonly tipSource: string;
  readonly girthLogSd: number;
  /** Of the circumference at ground line, girth and taper together. */
  readonly groundlineGirthLogSd: number;
  readonly modulus: LognormalPrior;
  readonly density: LognormalPrior;
  readonly root: RootForm;
  /** That the root is of this form, before any recording. */
  readonly rootChance: RootChance;
  /** Of the root's own parameter: N m/rad for `spring`, soil modulus otherwise. */
  readonly rootStiffness: LognormalPrior;
  /** Names of `options.priors` that the visit sets. */
  readonly givenPriors: readonly string[];
  readonly shear: { readonly flexibility: number; readonly logSd: number } | null;
  readonly masses: readonly PointMass[];
  readonly cables: readonly CableSpring[];
  readonly selfWeight: boolean;
};
