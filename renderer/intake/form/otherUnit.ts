import { fromSi, QUANTITIES, toSi } from '../../../core/workspace/contract.ts';
import type { Answers, Entry, UnitId, UnitSystem } from '../intakeTypes.ts';

/** As where usual answers are begun. */
const SAID_DIGITS = 3;

/** The unit in which the other system of units gives the same quantity. */
export function otherUnit(unit: UnitId): UnitId {
  for (const { metric, us } of Object.values(QUANTITIES)) {
    if (unit === metric) return us;
    if (unit === us) return metric;
  }
  return unit;
}

/**
 * Answers that are still empty take the units of a system, and what is only usual is said in them; what was typed stays as it
 * was typed.
 */
export function changeUnits<T extends Answers | object>(part: T, units: UnitSystem): T {
  if (Array.isArray(part)) return part.map((item) => changeUnits(item, units)) as T;
  if (isEntry(part)) {
    if (part.unit === null || (part.text !== '' && part.from !== 'usual')) return part;
    const unit = unitIn(part.unit, units);
    return { ...part, unit, text: sayIn(part.text, part.unit, unit) };
  }
  return Object.fromEntries(
    Object.entries(part).map(([key, value]) => [
      key,
      typeof value === 'object' && value !== null ? changeUnits(value, units) : value,
    ]),
  ) as T;
}

/** A number that nobody typed, in another unit, with the digits of a tape. */
function sayIn(text: string, from: UnitId, to: UnitId): string {
  if (text === '' || from === to) return text;
  return String(Number(fromSi(toSi(Number(text), from), to).toPrecision(SAID_DIGITS)));
}

function unitIn(unit: UnitId, units: UnitSystem): UnitId {
  const quantity = Object.values(QUANTITIES).find(({ metric, us }) => unit === metric || unit === us);
  return quantity?.[units] ?? unit;
}

function isEntry(part: object): part is Entry {
  return 'text' in part && 'unit' in part && 'from' in part;
}
