import type { Estimate } from '../core/assessment.ts';

/** Stands in a table where there is no number. */
export const NOTHING = '-';

const DIGITS = 3;

/** Writes a number with three significant digits and no exponent, in a unit `per` SI units large. */
export function formatNumber(value: number | null | undefined, per = 1): string {
  if (value === null || value === undefined) return NOTHING;
  const scaled = value / per;
  if (scaled === 0) return '0';
  const decimals = Math.max(0, DIGITS - 1 - Math.floor(Math.log10(Math.abs(scaled))));
  return scaled.toFixed(Math.min(decimals, DIGITS + 1));
}

/** Writes an estimate as "value (low to high)". */
export function formatRange(
  estimate: Pick<Estimate, 'value' | 'low' | 'high'> | null | undefined,
  per = 1,
): string {
  if (!estimate) return NOTHING;
  const [value, low, high] = [estimate.value, estimate.low, estimate.high].map((n) => formatNumber(n, per));
  return `${value} (${low} to ${high})`;
}

/** Writes a chance in per cent; never 0 or 100, which no computation can promise. */
export function formatChance(chance: number | null | undefined): string {
  if (chance === null || chance === undefined) return NOTHING;
  const percent = chance * 100;
  if (percent < 0.1) return '<0.1 %';
  if (percent > 99.9) return '>99.9 %';
  return `${percent.toFixed(1)} %`;
}
