import type { SampleSpecies } from './poleClasses.ts';
import type { RandomStream } from './random.ts';

interface SpeciesWood {
  /** Mean modulus of elasticity along the grain as vibration sees it, in Pa. */
  readonly modulusPa: number;
  readonly ruptureModulusPa: number;
  /** Oven-dry mass over green volume, relative to water. */
  readonly basicSpecificGravity: number;
}

/**
 * Means near the green values of clear wood in the Wood Handbook (USDA Forest Products Laboratory, Table 5-3a; shortleaf,
 * slash, loblolly and longleaf pine averaged; coast Douglas-fir; western redcedar), partly from memory. The modulus is
 * set 8 % higher: vibration gives more than a static test, and the shaft is drier than green (assumption).
 */
const WOOD: Readonly<Record<SampleSpecies, SpeciesWood>> = {
  'southern-pine': { modulusPa: 11.0e9, ruptureModulusPa: 55e6, basicSpecificGravity: 0.51 },
  'douglas-fir': { modulusPa: 11.6e9, ruptureModulusPa: 53e6, basicSpecificGravity: 0.45 },
  'western-redcedar': { modulusPa: 7.1e9, ruptureModulusPa: 36e6, basicSpecificGravity: 0.31 },
};

/** Spread between poles of a species (assumption near the handbook's 22 % of MOE and 16 % of MOR between trees). */
const MODULUS_VARIATION = 0.15;
const RUPTURE_VARIATION = 0.17;
/** Correlation of modulus and rupture modulus within a species; published on new poles: 0.45 to 0.51. */
const STRENGTH_CORRELATION = 0.52;
/** Draws beyond are no longer ordinary poles. */
const DRAW_LIMIT = 2;
const GRAVITY_VARIATION = 0.05;
const WATER_KG_PER_M3 = 1000;
/** Salt and oil kept in the wood, averaged over the section (assumption). */
const RETENTION_KG_PER_M3: Readonly<Record<string, number>> = { creosote: 40, penta: 10, CCA: 8, none: 0 };

/** What the wood of one pole is like. */
export interface Wood {
  readonly modulusPa: number;
  readonly ruptureModulusPa: number;
  readonly densityKgPerM3: number;
  readonly moisturePercent: number;
}

/** Draws the wood of one pole: modulus and rupture modulus together, density from gravity, moisture and retention. */
export function drawWood(species: SampleSpecies, treatment: string, random: RandomStream): Wood {
  const mean = WOOD[species];
  const stiffer = random.normalWithin(DRAW_LIMIT);
  const stronger =
    STRENGTH_CORRELATION * stiffer +
    Math.sqrt(1 - STRENGTH_CORRELATION ** 2) * random.normalWithin(DRAW_LIMIT);
  const moisturePercent = random.between(17, 32);
  const gravity = mean.basicSpecificGravity * (1 + GRAVITY_VARIATION * random.normalWithin(DRAW_LIMIT));
  return {
    modulusPa: mean.modulusPa * (1 + MODULUS_VARIATION * stiffer),
    ruptureModulusPa: mean.ruptureModulusPa * (1 + RUPTURE_VARIATION * stronger),
    densityKgPerM3:
      gravity * WATER_KG_PER_M3 * (1 + moisturePercent / 100) + (RETENTION_KG_PER_M3[treatment] ?? 0),
    moisturePercent,
  };
}
