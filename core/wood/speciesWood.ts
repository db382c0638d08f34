import type { SPECIES } from '../recording/index.ts';
import { type Lognormal, lognormalFromMean } from './lognormal.ts';
import {
  MODULUS_VARIATION,
  POLE_STRENGTH_VARIATION,
  SPECIFIC_GRAVITY_VARIATION,
  type ValueStatus,
  WOODS,
  type Wood,
} from './woods.ts';

export type Species = (typeof SPECIES)[number];

/** What is known of a pole of a species before anything is measured on it. */
type SpeciesWood = {
  readonly species: Species;
  /** The woods that the name may stand for, each as likely as the others. */
  readonly woods: readonly Wood[];
  /** Green modulus of elasticity at 21 degC, shear deflection taken out, in Pa. */
  readonly modulusGreenPa: Lognormal;
  /** Green modulus of rupture of poles, in Pa. */
  readonly modulusOfRuptureGreenPa: Lognormal;
  /** Oven-dry mass over green volume. */
  readonly basicSpecificGravity: Lognormal;
  /** The weakest status among the values used. */
  readonly status: ValueStatus;
  readonly source: string;
};

const WOODS_OF_SPECIES: Record<Exclude<Species, 'other'>, readonly Wood[]> = {
  'southern-pine': [WOODS.loblolly, WOODS.longleaf, WOODS.shortleaf, WOODS.slash],
  'douglas-fir': [WOODS.douglasFirCoast],
  'western-redcedar': [WOODS.westernRedcedar],
  'lodgepole-pine': [WOODS.lodgepole],
  'red-pine': [WOODS.red],
  'ponderosa-pine': [WOODS.ponderosa],
};

/**
 * The tabulated modulus comes from beams of span over depth 14 and holds their shear deflection; the true
 * bending modulus, which a slender pole's frequencies show, is 10 % higher. Source: Wood Handbook, note to
 * Table 5-3 (from memory).
 */
const SHEAR_CORRECTION = 1.1;

/** An unnamed species may lie outside of the tabulated woods: their spread is taken this much wider. Assumed. */
const OTHER_SPREAD_FACTOR = 1.5;

const STATUSES: readonly ValueStatus[] = ['read', 'secondary', 'memory', 'assumed'];

/**
 * Gathers what the handbook says of a species, as lognormals over single poles.
 * A name that stands for several woods (southern pine) is an equal mix: variation within and between woods
 * add. `other` is a mix of all tabulated woods with the spread between them widened. Strength keeps the 20 % of
 * poles for named species, which holds for groups as sold.
 */
export function describeSpecies(species: Species): SpeciesWood {
  const known = described.get(species) ?? gatherSpecies(species);
  described.set(species, known);
  return known;
}

/** The tables never change: each species is gathered once. A prediction over a whole workspace asks a million times. */
/** Whether a name is that of a species whose wood is known; `other` is none. */
export function isSpecies(name: string | null): name is Exclude<Species, 'other'> {
  return name !== null && Object.hasOwn(WOODS_OF_SPECIES, name);
}

const described = new Map<Species, SpeciesWood>();

function gatherSpecies(species: Species): SpeciesWood {
  const isOther = species === 'other';
  const woods = isOther ? Object.values(WOODS_OF_SPECIES).flat() : WOODS_OF_SPECIES[species];
  const spreadFactor = isOther ? OTHER_SPREAD_FACTOR : 1;
  return {
    species,
    woods,
    modulusGreenPa: mix(
      woods.map((wood) => wood.modulusGreenPa * SHEAR_CORRECTION),
      MODULUS_VARIATION.value,
      spreadFactor,
    ),
    modulusOfRuptureGreenPa: mix(
      woods.map((wood) => wood.modulusOfRuptureGreenPa),
      POLE_STRENGTH_VARIATION.value,
      isOther ? spreadFactor : 0,
    ),
    basicSpecificGravity: mix(
      woods.map((wood) => wood.specificGravityGreen),
      SPECIFIC_GRAVITY_VARIATION.value,
      spreadFactor,
    ),
    status: isOther ? 'assumed' : weakestStatus(woods),
    source: describeSource(species, woods),
  };
}

function mix(means: readonly number[], variation: number, spreadFactor: number): Lognormal {
  const logs = means.map((mean) => Math.log(lognormalFromMean(mean, variation).median));
  const middle = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  const between = logs.reduce((sum, log) => sum + (log - middle) ** 2, 0) / logs.length;
  const within = lognormalFromMean(1, variation).logSd;
  return { median: Math.exp(middle), logSd: Math.hypot(within, spreadFactor * Math.sqrt(between)) };
}

function weakestStatus(woods: readonly Wood[]): ValueStatus {
  return STATUSES[Math.max(...woods.map((wood) => STATUSES.indexOf(wood.status)))]!;
}

function describeSource(species: Species, woods: readonly Wood[]): string {
  if (species === 'other') {
    return 'Species not named: mix of all tabulated pole woods of the USDA Wood Handbook, widened (assumed)';
  }
  const sources = [...new Set(woods.map((wood) => wood.source))];
  const names = woods.map((wood) => wood.name).join(', ');
  return woods.length === 1 ? sources.join('; ') : `Equal mix (assumed) of ${names}: ${sources.join('; ')}`;
}
