/** Standard acceleration of gravity, m/s2: CGPM 1901, exact. */
const STANDARD_GRAVITY = 9.80665;

/** Spellings of the units of acceleration that are read, in lower case, with their size in m/s2. */
export const ACCELERATION_UNITS: readonly { readonly names: readonly string[]; readonly mPerS2: number }[] = [
  { names: ['m/s2', 'm/s^2', 'm/s²', 'm_per_s2', 'mps2'], mPerS2: 1 },
  { names: ['g'], mPerS2: STANDARD_GRAVITY },
  { names: ['mg'], mPerS2: STANDARD_GRAVITY / 1000 },
];

/** Size of a unit of acceleration in m/s2, or null where the name is none that is known here. */
export function findAccelerationUnit(name: string): number | null {
  return ACCELERATION_UNITS.find(({ names }) => names.includes(name.toLowerCase()))?.mPerS2 ?? null;
}
