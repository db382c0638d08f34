import type { BreakTestDetail } from './readBreakTests.ts';
import { ARM_NOT_SHORTENED } from './reduceRecord.ts';

/** Counts tests whose moment was taken with the whole arm, though it shortens while the pole bends. */
export function countArmsNotShortened(details: readonly Pick<BreakTestDetail, 'remarks'>[]): number {
  return details.filter(({ remarks }) => remarks.includes(ARM_NOT_SHORTENED)).length;
}
