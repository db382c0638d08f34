import type { Species } from './speciesWood.ts';
import type { ValueStatus } from './woods.ts';

const PA_PER_PSI = 6894.757293168;

/** ANSI O5.1 designated fibre stress at ground line, in psi; from memory. */
const DESIGNATED_PSI: Readonly<Partial<Record<Species, number>>> = {
  'southern-pine': 8000,
  'douglas-fir': 8000,
  'lodgepole-pine': 6600,
  'red-pine': 6600,
  'western-redcedar': 6000,
  'ponderosa-pine': 6000,
};

const STRESS_SOURCE =
  'ANSI O5.1 designated fibre stress: not read, from memory; since 2002 the mean of groundline strength, with 20 % ' +
  'variation (Wolfe and Kluge 2005, FPL-GTR-158, abstract read). Check against the standard.';

type FibreStress = { readonly meanPa: number; readonly status: ValueStatus; readonly source: string };

/** Finds the designated fibre stress of a species at ground line, in Pa; null where the table has no row. */
export function findFibreStress(species: Species): FibreStress | null {
  const psi = DESIGNATED_PSI[species];
  return psi === undefined ? null : { meanPa: psi * PA_PER_PSI, status: 'memory', source: STRESS_SOURCE };
}
