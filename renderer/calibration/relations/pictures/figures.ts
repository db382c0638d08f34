import { formatDifference, formatShare, formatSignificant } from '../../../words/index.ts';
import type { JudgedTest } from '../../calibrationTypes.ts';

const PA_PER_MPA = 1e6;

export function megapascals(pa: number): number {
  return pa / PA_PER_MPA;
}

/** Strength in MPa as shown; `none` where it is not known. */
export function showMpa(pa: number | null): string {
  return pa === null ? 'none' : formatSignificant(megapascals(pa));
}

/** Predicted over measured, less 1; null where nothing was predicted. */
export function errorOf({ predictedPa, measuredPa }: JudgedTest): number | null {
  return predictedPa === null ? null : predictedPa / measuredPa - 1;
}

/** A share in whole per cent with its sign; `none` where it is not known. */
export function showSigned(share: number | null): string {
  return formatDifference(share);
}

export function showShare(share: number | null): string {
  return share === null ? 'none' : formatShare(share);
}
