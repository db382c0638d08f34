/** What a typed number may be, in the unit in which it is typed; those named below lie inside what the contract takes. */
export type NumberLimits = { least: number; most: number; unit: string };

export const FREQUENCY_LIMITS: NumberLimits = { least: 0.1, most: 1000, unit: 'Hz' };
export const MODULUS_LIMITS: NumberLimits = { least: 0.1, most: 1000, unit: 'GPa' };
export const FIXITY_LIMITS: NumberLimits = { least: 0.001, most: 100_000, unit: '' };
export const CABLE_FACTOR_LIMITS: NumberLimits = { least: 0, most: 1000, unit: '' };
export const SETTING_DEPTH_LIMITS: NumberLimits = { least: 0.01, most: 20, unit: 'm' };
export const MASS_LIMITS: NumberLimits = { least: 0, most: 5000, unit: 'kg' };
export const MASS_HEIGHT_LIMITS: NumberLimits = { least: 0.01, most: 60, unit: 'm' };

/** The number that was typed, or words on what can be typed instead. */
export function readNumber(text: string, limits?: NumberLimits): { number: number } | { wrong: string } {
  const number = Number(text.replace(',', '.'));
  const isNumber = text.trim() !== '' && Number.isFinite(number);
  if (!limits) return isNumber ? { number } : { wrong: 'type a number' };
  const { least, most, unit } = limits;
  if (isNumber && number >= least && number <= most) return { number };
  return { wrong: `type a number ${nameRange(least, most)}${unit === '' ? '' : ` ${unit}`}` };
}

function nameRange(least: number, most: number): string {
  if (least === -Infinity) return `up to ${most}`;
  return most === Infinity ? `from ${least} on` : `from ${least} to ${most}`;
}

export function keepWithin(value: number, { least, most }: NumberLimits): number {
  return Math.min(Math.max(value, least), most);
}
