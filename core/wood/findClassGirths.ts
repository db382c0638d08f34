import { findLowerCircumference, findPoleClass, listPoleClasses } from './ansiClasses.ts';
import { findFibreStress } from './fibreStress.ts';
import type { Species } from './speciesWood.ts';
import type { ValueStatus } from './woods.ts';

/** Girths that poles of a class have at one place. */
export type ClassGirths = {
  /** Least girth of the class there. */
  readonly leastM: number;
  /** Least girth of the next stronger class there, which a pole of this one is below as a rule; null where it is not known. */
  readonly mostM: number | null;
  readonly status: ValueStatus;
};

/** The table of least girths is that of southern pine. */
const TABLED: Species = 'southern-pine';

/**
 * Finds the girths that poles of a class and species have at a distance from the butt, on a straight taper from the least girth
 * near the ground to that of the tip. A class is a load, so a species of lower fibre stress is thicker near the ground by the cube
 * root of the stresses (bending of beams; ANSI O5.1 stresses, from memory).
 * @param fromButtM - distance from the butt, from 0 to the length
 * @returns null where the tables have no row for class and length; the girths of southern pine, without an upper one, for a species
 * without a stress
 * @throws InputError `class.unknown`
 */
export function findClassGirths(
  classCode: string,
  lengthM: number,
  species: Species,
  fromButtM: number,
): ClassGirths | null {
  const own = findPoleClass(classCode);
  const least = leastGirth(own.code, lengthM, species, fromButtM);
  if (!least) return null;
  const stronger = listPoleClasses()
    .filter(({ loadN }) => loadN > own.loadN)
    .at(-1);
  const most =
    stronger && findFibreStress(species) ? leastGirth(stronger.code, lengthM, species, fromButtM) : null;
  return { leastM: least.girthM, mostM: most?.girthM ?? null, status: least.status };
}

function leastGirth(
  classCode: string,
  lengthM: number,
  species: Species,
  fromButtM: number,
): { girthM: number; status: ValueStatus } | null {
  const lower = findLowerCircumference(classCode, lengthM);
  if (!lower) return null;
  const stress = findFibreStress(species) ?? findFibreStress(TABLED)!;
  const lowerM = lower.circumferenceM * Math.cbrt(findFibreStress(TABLED)!.meanPa / stress.meanPa);
  const tipM = findPoleClass(classCode).leastTipCircumferenceM;
  const share = (fromButtM - lower.fromButtM) / (lengthM - lower.fromButtM);
  return { girthM: lowerM + share * (tipM - lowerM), status: lower.status };
}
