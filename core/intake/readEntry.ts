import { askAboutComma } from '../askAboutComma.ts';
import type { Entry } from './answers.ts';
import type { Field } from './fields.ts';
import { readNumber } from './readNumber.ts';
import { fromSi, QUANTITIES, toSi, UNITS, type UnitId } from './units.ts';

/** What an entry says, in SI; or words on what is wrong with it. A field left empty says null. */
export type Reading<T> = { readonly value: T | null; readonly wrong: string | null };

const DAY = /^\d{4}-\d{2}-\d{2}$/;
const CONTROL = /\p{Cc}/u;
/** Digits beyond are dust of the conversion: 30 ft are 9.144 m. */
const KEPT_DIGITS = 12;
/** Ranges are named with as many digits as a tape has. */
const NAMED_DIGITS = 4;

/** Reads an entry that says a text, a choice or a day. */
export function readText({ text }: Entry, field: Field): Reading<string> {
  const value = text.trim();
  if (value === '') return missing(field);
  if (CONTROL.test(value)) return wrong('Only plain characters in one line can be taken.');
  if (field.kind === 'text' && value.length > field.longest) {
    return wrong(`At most ${field.longest} characters can be taken; these are ${value.length}.`);
  }
  if (field.kind === 'date' && !isDay(value)) return wrong('A day is written as year-month-day: 2026-05-03.');
  return { value, wrong: null };
}

/** Reads an entry that says a number or a quantity, and converts it to SI: the one place where that is done. */
export function readValue({ text, unit }: Entry, field: Field): Reading<number> {
  if (text.trim() === '') return missing(field);
  if (field.kind !== 'quantity' && field.kind !== 'number' && field.kind !== 'whole') {
    return wrong('No number is asked for here.');
  }
  const id = field.kind === 'quantity' ? (unit ?? QUANTITIES[field.quantity].metric) : null;
  const plain = takeOwnUnitOff(text, id);
  const typed = readNumber(plain, id === 'ft');
  if (typed === null) return wrong(`"${text.trim()}" is no number.`);
  if (field.kind === 'whole' && !Number.isInteger(typed)) return wrong('A whole number is asked for.');
  const inSi = (number: number) => Number((id === null ? number : toSi(number, id)).toPrecision(KEPT_DIGITS));
  const isWithin = (si: number) => si >= field.least && si <= field.most;
  const asked = askAboutComma(plain, (joined) => isWithin(inSi(Number(joined))));
  if (asked !== null) return wrong(`${asked.replace(/^./, (c) => c.toUpperCase())}.`);
  const value = inSi(typed);
  if (isWithin(value)) return { value, wrong: null };
  return wrong(
    `Between ${nameLimit(field, field.least, id)} and ${nameLimit(field, field.most, id)} can be taken.`,
  );
}

/** The unit of its field may stand behind a number, inches as a tape marks them too. */
function takeOwnUnitOff(text: string, id: UnitId | null): string {
  const plain = text.trim();
  const marks = id === null ? [] : [UNITS[id].symbol, ...(id === 'in' ? ['"', '”', '″'] : [])];
  const mark = marks.find((own) => plain.endsWith(own));
  return mark === undefined ? plain : plain.slice(0, -mark.length).trim();
}

function nameLimit(field: Field, limit: number, id: UnitId | null): string {
  const value = Number((id === null ? limit : fromSi(limit, id)).toPrecision(NAMED_DIGITS));
  const symbol = id === null ? ('symbol' in field ? field.symbol : '') : UNITS[id].symbol;
  return `${value}${symbol === '°' || symbol === '' ? symbol : ` ${symbol}`}`;
}

function missing(field: Field): Reading<never> {
  return field.needed
    ? wrong(`${field.name.replace(/^./, (c) => c.toUpperCase())} is needed.`)
    : { value: null, wrong: null };
}

function wrong(words: string): Reading<never> {
  return { value: null, wrong: words };
}

function isDay(text: string): boolean {
  const day = new Date(`${text}T00:00:00Z`);
  return DAY.test(text) && !Number.isNaN(day.getTime()) && day.toISOString().startsWith(text);
}
