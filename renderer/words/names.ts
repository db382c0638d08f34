import { nameAzimuth } from '../../core/workspace/contract.ts';

export { namePlane } from '../../core/workspace/contract.ts';

/** `southern-pine` as people write it. */
export function describeSpecies(species: string): string {
  return species === 'other' ? 'other species' : species.replaceAll('-', ' ');
}

export function describeClass(classCode: string | null | undefined): string {
  return classCode ? `class ${classCode}` : 'no class given';
}

/** Name of an axis of the sensor: `axis 45°`. */
export function nameAxis(azimuthDeg: number): string {
  return `axis ${nameAzimuth(azimuthDeg)}`;
}

/** A moment to the minute, in UTC as it is kept: `2026-05-03 14:05`. @param iso - ISO 8601 */
export function formatMoment(iso: string): string {
  return iso.slice(0, 16).replace('T', ' ');
}
