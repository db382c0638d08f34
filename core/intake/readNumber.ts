/** A decimal number with point or comma: `9.14`, `-3,5`. */
const DECIMAL = /^[+-]?(\d+([.,]\d*)?|[.,]\d+)$/;
/** A tape in inches is read in fractions: `36 1/2`, `7/8`. */
const FRACTION = /^(?:(\d+)\s+)?(\d+)\/(\d+)$/;
/** Feet and inches in one: `30' 6"`, `30 ft 6 in`, `30' 6 1/2"`. */
const FEET_AND_INCHES = /^(\d+)\s*(?:'|ft)\s*(?:(\d+(?:[.,]\d+)?|(?:\d+\s+)?\d+\/\d+)\s*(?:"|''|in)?)?$/;
const INCHES_PER_FOOT = 12;

/**
 * Reads a number as people write it on a field sheet.
 * @param inFeet - feet and inches are read too, as feet
 * @returns null where it is none
 */
export function readNumber(text: string, inFeet = false): number | null {
  // as the program itself writes a minus (U+2212), and a tablet feet and inches
  const trimmed = text.trim().replace('\u2212', '-').replace(/[’′]/, "'").replace(/[”″]/, '"');
  if (DECIMAL.test(trimmed)) return Number(trimmed.replace(',', '.'));
  const fraction = readFraction(trimmed);
  if (fraction !== null) return fraction;
  const feet = inFeet ? FEET_AND_INCHES.exec(trimmed) : null;
  if (!feet) return null;
  const inches = feet[2] === undefined ? 0 : readNumber(feet[2]);
  return inches === null ? null : Number(feet[1]) + inches / INCHES_PER_FOOT;
}

function readFraction(text: string): number | null {
  const parts = FRACTION.exec(text);
  if (!parts || Number(parts[3]) === 0) return null;
  return Number(parts[1] ?? 0) + Number(parts[2]) / Number(parts[3]);
}
