import type { Estimate } from '../types.ts';

const SIGNIFICANT_DIGITS = 3;
const DIGITS_OF_WIDTH = 2;
const LARGEST_PLAIN = 1e5;
const SMALLEST_PLAIN = 1e-3;
/** Chances beyond these say no more than "below" or "above": the tails of the model are not known better. */
const LOWEST_SAID_CHANCE = 0.01;
const HIGHEST_SAID_CHANCE = 0.99;

/** A number with three significant digits, or scientific form for very large and small ones. */
export function formatSignificant(value: number | null | undefined, digits = SIGNIFICANT_DIGITS): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return 'none';
  const size = Math.abs(value);
  if (size === 0) return '0';
  if (size >= LARGEST_PLAIN || size < SMALLEST_PLAIN) {
    const [mantissa, exponent] = value.toExponential(digits - 1).split('e');
    return `${mantissa}×10${raise(Number(exponent))}`;
  }
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(size)));
  return value.toFixed(decimals);
}

/**
 * A median with its interval, for instance `10.4 (9.6 to 11.3) GPa`: as many decimals for all three as leave two
 * significant digits of the interval's width, for no estimate is known better.
 * @param perUnit - SI units in one unit shown (1e9 for GPa)
 */
export function formatEstimate(estimate: Omit<Estimate, 'level'>, unit: string, perUnit = 1): string {
  const value = estimate.value / perUnit;
  const low = estimate.low / perUnit;
  const high = estimate.high / perUnit;
  const width = high - low;
  const decimals =
    width > 0 ? Math.max(0, DIGITS_OF_WIDTH - 1 - Math.floor(Math.log10(width))) : SIGNIFICANT_DIGITS;
  const show = (x: number) => (Math.abs(x) >= LARGEST_PLAIN ? formatSignificant(x) : x.toFixed(decimals));
  return `${show(value)} (${show(low)} to ${show(high)})${unit === '' ? '' : ` ${unit}`}`;
}

/** A chance in per cent, `below 1 %` and `above 99 %` at the ends. */
export function formatChance(chance: number | null): string {
  if (chance === null) return 'unknown';
  if (chance < LOWEST_SAID_CHANCE) return 'below 1 %';
  if (chance > HIGHEST_SAID_CHANCE) return 'above 99 %';
  return `${Math.round(chance * 100)} %`;
}

/** A share in whole per cent; none below zero. */
export function formatShare(share: number): string {
  return `${Math.round(Math.max(share, 0) * 100)} %`;
}

/** A moment given in N·m, shown in kN·m. */
export function formatKiloNewtonMetres(momentNm: number): string {
  return `${formatSignificant(momentNm / 1e3)} kN·m`;
}

const SUPERSCRIPTS = '⁰¹²³⁴⁵⁶⁷⁸⁹';

function raise(exponent: number): string {
  const digits = [...String(Math.abs(exponent))].map((d) => SUPERSCRIPTS[Number(d)]).join('');
  return exponent < 0 ? `⁻${digits}` : digits;
}
