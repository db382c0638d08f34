import { QUANTITIES } from '../../../core/workspace/contract.ts';
import type { Answers, Entry, UnitId, UnitSystem } from '../intakeTypes.ts';

/** The unit in which the other system of units gives the same quantity. */
export function otherUnit(unit: UnitId): UnitId {
  for (const { metric, us } of Object.values(QUANTITIES)) {
    if (unit === metric) return us;
    if (unit === us) return metric;
  }
  return unit;
}

/** Answers that are still empty take the units of a system; what was typed stays as it was typed. */
export function changeUnits<T extends Answers | object>(part: T, units: UnitSystem): T {
  if (Array.isArray(part)) return part.map((item) => changeUnits(item, units)) as T;
  if (isEntry(part)) {
    const unit = part.unit === null || part.text !== '' ? part.unit : unitIn(part.unit, units);
    return { ...part, unit };
  }
  return Object.fromEntries(
    Object.entries(part).map(([key, value]) => [
      key,
      typeof value === 'object' && value !== null ? changeUnits(value, units) : value,
    ]),
  ) as T;
}

function unitIn(unit: UnitId, units: UnitSystem): UnitId {
  const quantity = Object.values(QUANTITIES).find(({ metric, us }) => unit === metric || unit === us);
  return quantity?.[units] ?? unit;
}

function isEntry(part: object): part is Entry {
  return 'text' in part && 'unit' in part && 'from' in part;
}
