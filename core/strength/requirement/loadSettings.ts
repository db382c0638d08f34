import type { RequirementProfile } from '../../recording/index.ts';
import type { ValueStatus } from '../../wood/index.ts';

type Wind = NonNullable<RequirementProfile['wind']>;
type LoadFactors = NonNullable<RequirementProfile['loadFactors']>;

const PA_PER_PSF = 47.88025898;
const METRE_PER_INCH = 0.0254;

const NESC = 'National Electrical Safety Code';
const CHECK = 'Check your local code.';

/** Shape factor of flat faces beside 1 of round ones: rule 252 of the National Electrical Safety Code, from memory. */
const FLAT_FACE = 1.6;
const PRESSURES = `${NESC}, table 250-1, through public copies; flat faces ${FLAT_FACE} times, from memory`;

/** Wind and ice as codes have them, to start a profile from. Every one wants checking against the code that applies. */
export const WIND_SETTINGS: readonly (Omit<Wind, 'onPole'> & { name: string; status: ValueStatus })[] = [
  windSetting('GO 95, heavy', 6, 10, 0.5, 'read', 'California General Order 95, rule 43.1: above 3000 ft'),
  windSetting('NESC, heavy', 4, 4 * FLAT_FACE, 0.5, 'secondary', PRESSURES),
  windSetting('NESC, medium', 4, 4 * FLAT_FACE, 0.25, 'secondary', PRESSURES),
  windSetting('NESC, light', 9, 9 * FLAT_FACE, 0, 'secondary', PRESSURES),
];

/** Load and strength factors as codes have them, to start a profile from. Unguyed wood, wind across the line. */
export const LOAD_FACTOR_SETTINGS: readonly (LoadFactors & { name: string; status: ValueStatus })[] = [
  factorSetting('NESC, grade B', 2.5, 1.65, 1.5, 0.65),
  factorSetting('NESC, grade C', 1.75, 1.3, 1.5, 0.85),
];

function windSetting(
  name: string,
  roundPsf: number,
  flatPsf: number,
  iceIn: number,
  status: ValueStatus,
  source: string,
) {
  return {
    name,
    pressurePa: roundPsf * PA_PER_PSF,
    flatPressurePa: flatPsf * PA_PER_PSF,
    iceThicknessM: iceIn * METRE_PER_INCH,
    status,
    source: `${source} (${status}). ${CHECK}`,
  };
}

function factorSetting(name: string, wind: number, tension: number, weight: number, strength: number) {
  const status: ValueStatus = 'memory';
  const source = `${NESC}, rules 253 and 261 (from memory). ${CHECK}`;
  return { name, wind, tension, weight, strength, status, source };
}
