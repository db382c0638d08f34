/** Units of priors that read better by the thousand: SI unit -> what is shown, and how many of the one in the other. */
const SHOWN: Readonly<Record<string, readonly [unit: string, perUnit: number]>> = {
  Pa: ['GPa', 1e9],
  'N/m2': ['MN/m²', 1e6],
  'N/m3': ['MN/m³', 1e6],
  'N m/rad': ['MN·m/rad', 1e6],
  'N/m': ['kN/m', 1e3],
  'kg/m3': ['kg/m³', 1],
};

export function unitOf(siUnit: string): readonly [unit: string, perUnit: number] {
  return SHOWN[siUnit] ?? [siUnit, 1];
}
