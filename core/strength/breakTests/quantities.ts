const NEWTON_PER_POUND = 4.4482216152605;
const NEWTON_PER_KILOPOND = 9.80665;
const METRE_PER_INCH = 0.0254;
const METRE_PER_FOOT = 0.3048;
const PA_PER_PSI = NEWTON_PER_POUND / METRE_PER_INCH ** 2;

/** A unit as it is shown, its size in SI, and how it may be spelt once {@link spellUnit} has been at it. */
type Unit = { readonly name: string; readonly size: number; readonly spellings: readonly string[] };

/**
 * Units that are read, by quantity; the first is the SI unit. Sizes are exact by definition (inch, foot, pound, standard gravity).
 * `usual` is taken where a header names none: only where no other unit is in use.
 */
export const QUANTITIES = {
  length: {
    units: [
      { name: 'm', size: 1, spellings: ['m', 'metre', 'metres', 'meter', 'meters'] },
      {
        name: 'cm',
        size: 0.01,
        spellings: ['cm', 'centimetre', 'centimetres', 'centimeter', 'centimeters'],
      },
      {
        name: 'mm',
        size: 0.001,
        spellings: ['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'],
      },
      { name: 'ft', size: METRE_PER_FOOT, spellings: ['ft', 'feet', 'foot', "'"] },
      { name: 'in', size: METRE_PER_INCH, spellings: ['in', 'inch', 'inches', '"'] },
    ],
    usual: null,
  },
  force: {
    units: [
      { name: 'N', size: 1, spellings: ['n', 'newton', 'newtons'] },
      { name: 'kN', size: 1000, spellings: ['kn', 'kilonewton', 'kilonewtons'] },
      { name: 'daN', size: 10, spellings: ['dan'] },
      {
        name: 'lbf',
        size: NEWTON_PER_POUND,
        spellings: ['lbf', 'lb', 'lbs', 'pound', 'pounds', 'poundforce', 'poundsforce'],
      },
      {
        name: 'kip',
        size: 1000 * NEWTON_PER_POUND,
        spellings: ['kip', 'kips', 'klbf', '1000lb', '1000lbs', '1000lbf'],
      },
      { name: 'kgf', size: NEWTON_PER_KILOPOND, spellings: ['kgf', 'kp', 'kg'] },
    ],
    usual: null,
  },
  stress: {
    units: [
      { name: 'Pa', size: 1, spellings: ['pa', 'n/m2'] },
      { name: 'kPa', size: 1e3, spellings: ['kpa'] },
      { name: 'MPa', size: 1e6, spellings: ['mpa', 'n/mm2'] },
      { name: 'GPa', size: 1e9, spellings: ['gpa', 'kn/mm2'] },
      { name: 'psi', size: PA_PER_PSI, spellings: ['psi', 'lbf/in2', 'lb/in2', 'lbs/in2'] },
      { name: 'ksi', size: 1e3 * PA_PER_PSI, spellings: ['ksi', '103psi', 'x103psi', '1000psi'] },
      {
        name: '10^6 psi',
        size: 1e6 * PA_PER_PSI,
        spellings: ['106psi', 'x106psi', 'psix106', 'millionpsi', 'msi', 'mpsi'],
      },
      { name: 'kgf/cm2', size: NEWTON_PER_KILOPOND * 1e4, spellings: ['kgf/cm2', 'kg/cm2'] },
    ],
    usual: null,
  },
  moment: {
    units: [
      { name: 'N·m', size: 1, spellings: ['nm'] },
      { name: 'kN·m', size: 1000, spellings: ['knm'] },
      {
        name: 'ft lbf',
        size: METRE_PER_FOOT * NEWTON_PER_POUND,
        spellings: ['ftlbf', 'ftlb', 'ftlbs', 'lbfft', 'lbft', 'lbsft', 'footpounds', 'ftpounds'],
      },
      {
        name: 'kip ft',
        size: 1000 * METRE_PER_FOOT * NEWTON_PER_POUND,
        spellings: ['kipft', 'kipsft', 'ftkip', 'ftkips', '1000ftlb', '1000ftlbs', '1000ftlbf'],
      },
      {
        name: 'in lbf',
        size: METRE_PER_INCH * NEWTON_PER_POUND,
        spellings: ['inlbf', 'inlb', 'inlbs', 'lbfin', 'lbin', 'lbsin', 'inchpounds', 'inpounds'],
      },
    ],
    usual: null,
  },
  density: {
    units: [
      { name: 'kg/m3', size: 1, spellings: ['kg/m3', 'kgm3'] },
      { name: 'g/cm3', size: 1000, spellings: ['g/cm3', 'gcm3', 'g/cc', 't/m3'] },
      {
        name: 'lb/ft3',
        size: NEWTON_PER_POUND / NEWTON_PER_KILOPOND / METRE_PER_FOOT ** 3,
        spellings: ['lb/ft3', 'lbs/ft3', 'pcf', 'lbft3'],
      },
    ],
    usual: null,
  },
  frequency: { units: [{ name: 'Hz', size: 1, spellings: ['hz', 'hertz', '1/s'] }], usual: 'Hz' },
  percent: {
    units: [
      { name: '%', size: 1, spellings: ['%', 'percent', 'pct', 'pc'] },
      { name: 'share of 1', size: 100, spellings: ['share', 'fraction', 'ratio'] },
    ],
    usual: '%',
  },
  time: {
    units: [{ name: 'years', size: 1, spellings: ['years', 'year', 'yrs', 'yr', 'a', 'y'] }],
    usual: 'years',
  },
  number: { units: [{ name: '-', size: 1, spellings: ['', '-', '1'] }], usual: '-' },
} as const satisfies Record<string, { units: readonly Unit[]; usual: string | null }>;

export type QuantityName = keyof typeof QUANTITIES;

/** Finds a unit of a quantity by any of its spellings; null where it is none. */
export function findUnit(quantity: QuantityName, text: string): Unit | null {
  const spelt = spellUnit(text);
  const units: readonly Unit[] = QUANTITIES[quantity].units;
  return units.find(({ name, spellings }) => name === text || spellings.includes(spelt)) ?? null;
}

/** One spelling for what differs in case, spaces, marks of multiplication and raised digits only: `kN·m`, `N per mm²`. */
function spellUnit(text: string): string {
  return text
    .toLowerCase()
    .replace(/²/g, '2')
    .replace(/³/g, '3')
    .replace(/⁶/g, '6')
    .replace(/×/g, 'x')
    .replace(/\bper\b/g, '/')
    .replace(/(?<=.)-(?=.)|[\s_·*.^]/g, '');
}
