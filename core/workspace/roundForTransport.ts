/** More digits than any plot resolves, and fewer bytes than full precision. */
const SIGNIFICANT_DIGITS = 6;
/** Powers of ten up to this are exact in a double, so that a quotient by one is the double nearest to its decimals. */
const LARGEST_EXACT_POWER = 22;
const POWERS = Array.from({ length: LARGEST_EXACT_POWER + 1 }, (_, power) => 10 ** power);

/**
 * Rounds to 6 significant digits, for plots; a value that is not finite becomes 0, since JSON knows none. By arithmetic: writing
 * a value and reading it again takes ten times as long, and there are tens of thousands in a picture.
 */
export function roundForTransport(value: number): number {
  if (!Number.isFinite(value) || value === 0) return 0;
  const decimals = SIGNIFICANT_DIGITS - 1 - Math.floor(Math.log10(Math.abs(value)));
  const power = POWERS[Math.abs(decimals)];
  if (power === undefined) return Number(value.toPrecision(SIGNIFICANT_DIGITS));
  return decimals < 0 ? Math.round(value / power) * power : Math.round(value * power) / power;
}
