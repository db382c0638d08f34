/** More digits than any plot resolves, and fewer bytes than full precision. */
const SIGNIFICANT_DIGITS = 6;

/** Rounds to 6 significant digits, for plots; a value that is not finite becomes 0, since JSON knows none. */
export function roundForTransport(value: number): number {
  return Number.isFinite(value) ? Number(value.toPrecision(SIGNIFICANT_DIGITS)) : 0;
}
