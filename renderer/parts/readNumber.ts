import { askAboutComma, UNITS } from '../../core/workspace/contract.ts';

/** What a typed number may be, in the unit in which it is typed. */
export type NumberLimits = { least: number; most: number; unit: string; isWhole?: boolean };

const { m, cm, ft, in: inch, kg, lb, g } = UNITS;
const NEWTON_PER_LBF = lb.factor * g.factor;

/** Units that may be typed behind a number, by the unit of its field, each as so many of that. */
const TYPED_UNITS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  m: { m: m.factor, cm: cm.factor, ft: ft.factor, in: inch.factor },
  'm²': { 'm²': 1, 'ft²': ft.factor ** 2, 'in²': inch.factor ** 2 },
  kg: { kg: kg.factor, lb: lb.factor },
  N: { N: 1, lbf: NEWTON_PER_LBF },
  Pa: { Pa: 1, psf: NEWTON_PER_LBF / ft.factor ** 2 },
};
/** A number, and the unit behind it: `30 ft`, `2,5ft²`, `6 ft2`. */
const WITH_UNIT = /^(.*\d[.,]?)\s*(\p{L}+)([²2]?)$/u;
/** Digits beyond are dust of the conversion: 30 ft are 9.144 m. */
const KEPT_DIGITS = 12;

/** The number that was typed, in the unit of its limits; or words on what can be typed instead. */
export function readNumber(text: string, limits?: NumberLimits): { number: number } | { wrong: string } {
  const number = readInUnit(text, limits?.unit ?? '');
  const isNumber = Number.isFinite(number);
  if (!limits) return isNumber ? { number } : { wrong: 'type a number' };
  const { least, most, unit, isWhole = false } = limits;
  const isWithin = (value: number) =>
    value >= least && value <= most && (!isWhole || Number.isInteger(value));
  const wrong = askAboutComma(text, (joined) => isWithin(readInUnit(joined, unit)));
  if (wrong !== null) return { wrong };
  if (isNumber && isWithin(number)) return { number };
  const kind = isWhole ? 'whole number' : 'number';
  return { wrong: `type a ${kind} ${nameRange(least, most)}${unit === '' ? '' : ` ${unit}`}` };
}

function readInUnit(text: string, unit: string): number {
  const [, digits, letters, square] = WITH_UNIT.exec(text.trim()) ?? [];
  if (digits === undefined) return text.trim() === '' ? Number.NaN : Number(text.replace(',', '.'));
  const size = TYPED_UNITS[unit]?.[square ? `${letters}²` : letters!];
  if (size === undefined) return Number.NaN;
  return Number((Number(digits.replace(',', '.')) * size).toPrecision(KEPT_DIGITS));
}

function nameRange(least: number, most: number): string {
  if (least === -Infinity) return `up to ${most}`;
  return most === Infinity ? `from ${least} on` : `from ${least} to ${most}`;
}
