/**
 * Units that quantities are typed in. Factors are those of NIST Special Publication 811 (2008), Guide for the Use of the
 * International System of Units, appendix B.8, with the digits of their definitions where these are exact.
 */

const METRE_PER_FOOT = 0.3048;
const METRE_PER_INCH = 0.0254;
const KILOGRAM_PER_POUND = 0.45359237;
/** Standard acceleration of gravity, exact. */
const STANDARD_GRAVITY_M_PER_S2 = 9.80665;
const NEWTON_PER_POUND_FORCE = KILOGRAM_PER_POUND * STANDARD_GRAVITY_M_PER_S2;
/** t/°C = (t/°F - 32) / 1.8. */
const FAHRENHEIT_ZERO = 32;
const FAHRENHEIT_PER_CELSIUS = 1.8;

type Unit = {
  readonly symbol: string;
  /** SI = (value - offset) * factor; degrees Celsius stand for SI, as in the visit file. */
  readonly factor: number;
  readonly offset: number;
};

const unit = (symbol: string, factor: number, offset = 0): Unit => ({ symbol, factor, offset });

export const UNITS = {
  m: unit('m', 1),
  cm: unit('cm', 0.01),
  ft: unit('ft', METRE_PER_FOOT),
  in: unit('in', METRE_PER_INCH),
  kg: unit('kg', 1),
  lb: unit('lb', KILOGRAM_PER_POUND),
  degC: unit('°C', 1),
  degF: unit('°F', 1 / FAHRENHEIT_PER_CELSIUS, FAHRENHEIT_ZERO),
  kgPerM3: unit('kg/m³', 1),
  lbPerFt3: unit('lb/ft³', KILOGRAM_PER_POUND / METRE_PER_FOOT ** 3),
  mPerS2: unit('m/s²', 1),
  g: unit('g', STANDARD_GRAVITY_M_PER_S2),
  nPerM: unit('N/m', 1),
  lbfPerFt: unit('lbf/ft', NEWTON_PER_POUND_FORCE / METRE_PER_FOOT),
} as const satisfies Record<string, Unit>;

export type UnitId = keyof typeof UNITS;
export const UNIT_IDS = Object.keys(UNITS) as [UnitId, ...UnitId[]];

export const UNIT_SYSTEMS = ['metric', 'us'] as const;
export type UnitSystem = (typeof UNIT_SYSTEMS)[number];

/** The unit in which a crew writes each quantity, by system of units. */
export const QUANTITIES = {
  length: { metric: 'm', us: 'ft' },
  girth: { metric: 'cm', us: 'in' },
  mass: { metric: 'kg', us: 'lb' },
  temperature: { metric: 'degC', us: 'degF' },
  density: { metric: 'kgPerM3', us: 'lbPerFt3' },
  acceleration: { metric: 'mPerS2', us: 'g' },
  stiffness: { metric: 'nPerM', us: 'lbfPerFt' },
} as const satisfies Record<string, Record<UnitSystem, UnitId>>;

export type Quantity = keyof typeof QUANTITIES;

/** A value in a unit, in SI (temperatures in °C). */
export function toSi(value: number, id: UnitId): number {
  const { factor, offset } = UNITS[id];
  return (value - offset) * factor;
}

/** A value in SI, in a unit. */
export function fromSi(value: number, id: UnitId): number {
  const { factor, offset } = UNITS[id];
  return value / factor + offset;
}
