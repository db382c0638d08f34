import {
  formatCompared as formatComparedWithUnit,
  formatMedian as formatMedianWithUnit,
  formatEstimate as formatWithUnit,
  writeMinus,
} from '../../core/workspace/contract.ts';
import type { Estimate } from '../types.ts';

type Interval = Omit<Estimate, 'level'>;

const SIGNIFICANT_DIGITS = 3;
const LARGEST_PLAIN = 1e5;
const SMALLEST_PLAIN = 1e-3;

/** A number with three significant digits, or scientific form for very large and small ones. */
export function formatSignificant(value: number | null | undefined, digits = SIGNIFICANT_DIGITS): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return 'none';
  const size = Math.abs(value);
  if (size === 0) return '0';
  if (size >= LARGEST_PLAIN || size < SMALLEST_PLAIN) {
    const [mantissa, exponent] = value.toExponential(digits - 1).split('e');
    return `${writeMinus(mantissa!)}×10${raise(Number(exponent))}`;
  }
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(size)));
  return writeMinus(value.toFixed(decimals));
}

/** A median with its interval, for instance `10.4 (9.6 to 11.3) GPa`. @param perUnit - SI units in one unit shown (1e9 for GPa) */
export function formatEstimate(estimate: Interval, unit: string, perUnit = 1): string {
  return formatWithUnit(estimate, { symbol: unit, scale: perUnit });
}

/** The same where it stands beside how much it changed: with digits enough to follow the percent. */
export function formatCompared(estimate: Interval, perUnit = 1): string {
  return formatComparedWithUnit(estimate, { symbol: '', scale: perUnit });
}

/** Its median alone, with the same digits. */
export function formatMedian(estimate: Interval, perUnit = 1): string {
  return formatMedianWithUnit(estimate, { symbol: '', scale: perUnit });
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
