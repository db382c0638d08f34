import type { NumberLimits } from '../parts/index.ts';

// What can be typed on the bench; all of it lies inside what the contract takes.

export const FREQUENCY_LIMITS: NumberLimits = { least: 0.1, most: 1000, unit: 'Hz' };
export const MODULUS_LIMITS: NumberLimits = { least: 0.1, most: 1000, unit: 'GPa' };
export const FIXITY_LIMITS: NumberLimits = { least: 0.001, most: 100_000, unit: '' };
export const CABLE_FACTOR_LIMITS: NumberLimits = { least: 0, most: 1000, unit: '' };
export const SETTING_DEPTH_LIMITS: NumberLimits = { least: 0.01, most: 20, unit: 'm' };
export const MASS_LIMITS: NumberLimits = { least: 0, most: 5000, unit: 'kg' };
export const MASS_HEIGHT_LIMITS: NumberLimits = { least: 0.01, most: 60, unit: 'm' };

export function keepWithin(value: number, { least, most }: NumberLimits): number {
  return Math.min(Math.max(value, least), most);
}
