/** Area and second moment of area about the neutral axis of one bending plane. */
export interface Section {
  readonly areaM2: number;
  readonly secondMomentM4: number;
}

/** Spring root: the ground line cannot move sideways; `rotationalNmPerRad` may be Infinity (clamped). */
interface SpringRoot {
  readonly kind: 'spring';
  readonly rotationalNmPerRad: number;
}

/** Coupled root: [force, moment] at the ground line = [[lateral, cross], [cross, rotational]] [w, dw/dz]. */
interface CoupledRoot {
  readonly kind: 'coupled';
  readonly lateralNPerM: number;
  readonly crossN: number;
  readonly rotationalNmPerRad: number;
}

/** Bedded root: the pole goes on below ground on soil springs; reaction modulus in N/m per metre of depth run. */
interface BeddedRoot {
  readonly kind: 'bedded';
  readonly settingDepthM: number;
  readonly reactionModulusPaAt: (depthM: number) => number;
}

type Root = SpringRoot | CoupledRoot | BeddedRoot;

/** One bending plane of a standing pole. Heights count from the ground line, negative below it. */
export interface PoleModel {
  readonly heightM: number;
  /** Section of this plane at a height above (or, negative, below) ground line. */
  readonly sectionAt: (heightM: number) => Section;
  readonly modulusPa: number;
  readonly densityKgPerM3: number;
  /**
   * Ratio E/G and shear coefficient of the section (Timoshenko, with rotary inertia).
   * Null: Euler-Bernoulli, without rotary inertia.
   */
  readonly shear: { readonly modulusRatio: number; readonly coefficient: number } | null;
  /** Acceleration of gravity for the self-weight; 0 leaves it out. */
  readonly gravityMPerS2: number;
  readonly root: Root;
  readonly springs: readonly { readonly heightM: number; readonly stiffnessNPerM: number }[];
  readonly masses: readonly { readonly heightM: number; readonly massKg: number }[];
}

/** Elements above and below ground. */
export interface Mesh {
  readonly above: number;
  readonly below: number;
}

export const DEFAULT_MESH: Mesh = { above: 48, below: 12 };

/** Wood along the grain: E/G of about 16 (Wood Handbook, Table 5-1), shear coefficient 0.9 of a solid circle. */
export const SHEAR_OF_WOOD = { modulusRatio: 16, coefficient: 0.9 } as const;
export const GRAVITY_M_PER_S2 = 9.80665;
