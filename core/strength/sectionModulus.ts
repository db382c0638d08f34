import { InputError } from '../errors.ts';

/**
 * Computes the elastic section modulus of a round section, in m3: pi d^3 / 32, or, where a concentric
 * hollow leaves a shell, pi (d^4 - di^4) / (32 d). A shell of half the diameter or more is solid.
 * @param circumferenceM - outer, of sound wood, above 0
 * @param shellThicknessM - least sound shell, taken all round; null: solid
 * @returns the section modulus, and how its logarithm changes with that of the circumference at a fixed shell
 * @throws InputError `section.circumference`, `section.shell`
 */
export function sectionModulus(
  circumferenceM: number,
  shellThicknessM: number | null,
): { sectionModulusM3: number; logSlope: number } {
  requirePositive('circumference', circumferenceM);
  if (shellThicknessM !== null) requirePositive('shell', shellThicknessM);
  const outerM = circumferenceM / Math.PI;
  const innerM = shellThicknessM === null ? 0 : Math.max(0, outerM - 2 * shellThicknessM);
  const fourths = outerM ** 4 - innerM ** 4;
  return {
    sectionModulusM3: (Math.PI * fourths) / (32 * outerM),
    logSlope: (4 * outerM * (outerM ** 3 - innerM ** 3)) / fourths - 1,
  };
}

function requirePositive(name: string, valueM: number): void {
  if (Number.isFinite(valueM) && valueM > 0) return;
  throw new InputError(
    `section.${name}`,
    `Groundline ${name}: ${valueM} m; expected a length above 0.`,
    'Give it in metres, measured at ground line on sound wood.',
  );
}
