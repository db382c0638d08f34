/** How far a value can be trusted: read in the publication itself, in somebody's copy of it, recalled, or assumed here. */
export type ValueStatus = 'read' | 'secondary' | 'memory' | 'assumed';

/** Clear-wood properties of one botanical species, small straight-grained pieces, at 21 degC. */
export type Wood = {
  readonly name: string;
  /** Oven-dry mass over green volume. */
  readonly specificGravityGreen: number;
  /** Oven-dry mass over volume at 12 % moisture. */
  readonly specificGravity12: number;
  readonly modulusOfRuptureGreenPa: number;
  readonly modulusOfRupture12Pa: number;
  /** As printed: centre-loaded, span over depth 14, shear deflection not taken out. */
  readonly modulusGreenPa: number;
  readonly modulus12Pa: number;
  /** Moisture at which drying begins to change the properties (Table 5-13; 25 where the table has no row). */
  readonly intersectionPercent: number;
  readonly status: ValueStatus;
  readonly source: string;
};

const MPA = 1e6;
const GPA = 1e9;

const READ_2010 = 'USDA Wood Handbook FPL-GTR-190 (2010), Table 5-3a, row read in a public copy';
const COPY_2021 = 'USDA Wood Handbook FPL-GTR-282 (2021), Table 5-3a, through a public transcription';
const REDCEDAR =
  'USDA Wood Handbook FPL-GTR-190 (2010), Table 5-3a: 12 % values through public copies (7500 psi, 1.11e6 psi), green values from memory';

/** Intersection moisture where Table 5-13 has no row for the species (text beside Equation 5-3). */
const DEFAULT_INTERSECTION_PERCENT = 25;

/** Where the intersection moistures come from: Table 5-13, not read in the handbook itself. */
export const INTERSECTION_SOURCE =
  'USDA Wood Handbook FPL-GTR-282 (2021), Table 5-13, through a public transcription; 25 % where it has no row';

/**
 * Wood Handbook values of the woods that poles are made of. A row's status covers its six strength, stiffness
 * and gravity values; intersection moistures are `secondary` throughout (see INTERSECTION_SOURCE).
 */
export const WOODS = {
  loblolly: {
    name: 'loblolly pine',
    specificGravityGreen: 0.47,
    specificGravity12: 0.51,
    modulusOfRuptureGreenPa: 50 * MPA,
    modulusOfRupture12Pa: 88 * MPA,
    modulusGreenPa: 9.7 * GPA,
    modulus12Pa: 12.3 * GPA,
    intersectionPercent: 21,
    status: 'secondary',
    source: COPY_2021,
  },
  longleaf: {
    name: 'longleaf pine',
    specificGravityGreen: 0.54,
    specificGravity12: 0.59,
    modulusOfRuptureGreenPa: 59 * MPA,
    modulusOfRupture12Pa: 100 * MPA,
    modulusGreenPa: 11.0 * GPA,
    modulus12Pa: 13.7 * GPA,
    intersectionPercent: 21,
    status: 'secondary',
    source: COPY_2021,
  },
  shortleaf: {
    name: 'shortleaf pine',
    specificGravityGreen: 0.47,
    specificGravity12: 0.51,
    modulusOfRuptureGreenPa: 51 * MPA,
    modulusOfRupture12Pa: 90 * MPA,
    modulusGreenPa: 9.6 * GPA,
    modulus12Pa: 12.1 * GPA,
    intersectionPercent: DEFAULT_INTERSECTION_PERCENT,
    status: 'read',
    source: READ_2010,
  },
  slash: {
    name: 'slash pine',
    specificGravityGreen: 0.54,
    specificGravity12: 0.59,
    modulusOfRuptureGreenPa: 60 * MPA,
    modulusOfRupture12Pa: 112 * MPA,
    modulusGreenPa: 10.5 * GPA,
    modulus12Pa: 13.7 * GPA,
    intersectionPercent: DEFAULT_INTERSECTION_PERCENT,
    status: 'read',
    source: READ_2010,
  },
  douglasFirCoast: {
    name: 'Douglas-fir, coast',
    specificGravityGreen: 0.45,
    specificGravity12: 0.48,
    modulusOfRuptureGreenPa: 53 * MPA,
    modulusOfRupture12Pa: 85 * MPA,
    modulusGreenPa: 10.8 * GPA,
    modulus12Pa: 13.4 * GPA,
    intersectionPercent: 24,
    status: 'secondary',
    source: COPY_2021,
  },
  westernRedcedar: {
    name: 'western redcedar',
    specificGravityGreen: 0.31,
    specificGravity12: 0.32,
    modulusOfRuptureGreenPa: 35.9 * MPA,
    modulusOfRupture12Pa: 51.7 * MPA,
    modulusGreenPa: 6.5 * GPA,
    modulus12Pa: 7.7 * GPA,
    intersectionPercent: DEFAULT_INTERSECTION_PERCENT,
    status: 'memory',
    source: REDCEDAR,
  },
  lodgepole: {
    name: 'lodgepole pine',
    specificGravityGreen: 0.38,
    specificGravity12: 0.41,
    modulusOfRuptureGreenPa: 38 * MPA,
    modulusOfRupture12Pa: 65 * MPA,
    modulusGreenPa: 7.4 * GPA,
    modulus12Pa: 9.2 * GPA,
    intersectionPercent: DEFAULT_INTERSECTION_PERCENT,
    status: 'secondary',
    source: COPY_2021,
  },
  red: {
    name: 'red pine',
    specificGravityGreen: 0.41,
    specificGravity12: 0.46,
    modulusOfRuptureGreenPa: 40 * MPA,
    modulusOfRupture12Pa: 76 * MPA,
    modulusGreenPa: 8.8 * GPA,
    modulus12Pa: 11.2 * GPA,
    intersectionPercent: 24,
    status: 'read',
    source: READ_2010,
  },
  ponderosa: {
    name: 'ponderosa pine',
    specificGravityGreen: 0.38,
    specificGravity12: 0.4,
    modulusOfRuptureGreenPa: 35 * MPA,
    modulusOfRupture12Pa: 65 * MPA,
    modulusGreenPa: 6.9 * GPA,
    modulus12Pa: 8.9 * GPA,
    intersectionPercent: DEFAULT_INTERSECTION_PERCENT,
    status: 'read',
    source: READ_2010,
  },
} as const satisfies Record<string, Wood>;

/** A coefficient of variation with where it comes from. */
type Variation = { readonly value: number; readonly status: ValueStatus; readonly source: string };

const CLEAR_WOOD_VARIATION =
  'USDA Wood Handbook, average coefficients of variation of clear wood (Table 5-6, from memory); agrees with the ' +
  'standard deviations of an ASTM D2555-type table read in a public copy (lodgepole pine: MOE 22.0 %; baldcypress: ' +
  'MOE 22.0 %, specific gravity 10.0 %)';

/** Pole-to-pole variation of the modulus of elasticity within a species. */
export const MODULUS_VARIATION: Variation = {
  value: 0.22,
  status: 'secondary',
  source: CLEAR_WOOD_VARIATION,
};

/** Pole-to-pole variation of specific gravity within a species. */
export const SPECIFIC_GRAVITY_VARIATION: Variation = {
  value: 0.1,
  status: 'secondary',
  source: CLEAR_WOOD_VARIATION,
};

/**
 * Variation of the groundline strength of poles. Clear wood within a species varies by 16 %; whole poles
 * with knots and slope of grain by 20 %, and poles are what is asked about.
 */
export const POLE_STRENGTH_VARIATION: Variation = {
  value: 0.2,
  status: 'read',
  source: 'Wolfe and Kluge 2005, Designated Fiber Stress for Wood Poles, FPL-GTR-158, abstract (20 %)',
};
