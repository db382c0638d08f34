import { PRIOR_LIMITS, Z_OF_90_PERCENT } from '../../../core/workspace/contract.ts';
import type { Prior, RangedPrior } from '../../types.ts';

/** A prior that an analyst can set: its field in the visit file names it. */
export type EditableName = RangedPrior['name'];

const FIELD = /^options\.priors\.(\w+)$/;

/** Digits of what is kept: more than anybody types. */
const DIGITS = 6;

/** The name under which a prior is set; null for those that follow from what was measured. */
export function editableName({ setBy }: Prior): EditableName | null {
  const name = setBy === undefined ? undefined : FIELD.exec(setBy)?.[1];
  return name !== undefined && Object.hasOwn(PRIOR_LIMITS, name) ? (name as EditableName) : null;
}

/** A prior of this median and 90 % range, in SI units, as a decision holds it. */
export function priorOf(name: EditableName, { low, high }: { low: number; high: number }): RangedPrior {
  const round = (value: number) => Number(value.toPrecision(DIGITS));
  if (name === 'settingDepthM' || name === 'tipGirthM') {
    return { name, median: round((low + high) / 2), sd: round((high - low) / (2 * Z_OF_90_PERCENT)) };
  }
  return {
    name,
    median: round(Math.sqrt(low * high)),
    logSd: round(Math.log(high / low) / (2 * Z_OF_90_PERCENT)),
  };
}

/** The greatest end that a 90 % range of a prior may have above its least, in SI units. */
export function widestHigh(name: EditableName, low: number): number {
  const reach = 2 * Z_OF_90_PERCENT * PRIOR_LIMITS[name].widest;
  return name === 'settingDepthM' || name === 'tipGirthM' ? low + reach : low * Math.exp(reach);
}
