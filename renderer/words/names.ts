/** `southern-pine` as people write it. */
export function describeSpecies(species: string): string {
  return species === 'other' ? 'other species' : species.replaceAll('-', ' ');
}

export function describeClass(classCode: string | null | undefined): string {
  return classCode ? `class ${classCode}` : 'no class given';
}

/** Name of a bending plane by its azimuth: `plane 45°`. */
export function nameAzimuth(azimuthDeg: number): string {
  return `plane ${Math.round(azimuthDeg)}°`;
}
