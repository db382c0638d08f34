/** What a typed number may be, in the unit in which it is typed. */
export type NumberLimits = { least: number; most: number; unit: string };

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
