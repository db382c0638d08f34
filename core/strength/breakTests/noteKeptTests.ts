import type { BreakTestRow } from '../relation/breakTestRow.ts';
import { noteSeries } from './noteSeries.ts';
import type { BreakTestDetail } from './readBreakTests.ts';
import { ARM_NOT_SHORTENED } from './reduceRecord.ts';

/** Says of tests that were kept, of one table or several, what {@link noteSeries} says of a table when it is read. */
export function noteKeptTests(
  tests: readonly { readonly row: BreakTestRow; readonly detail: Pick<BreakTestDetail, 'remarks'> }[],
): string[] {
  return noteSeries(
    tests.map(({ row }) => row),
    {
      withoutSpecies: tests.filter(({ row }) => row.species === 'other').length,
      withoutArmLoss: tests.filter(({ detail }) => detail.remarks.includes(ARM_NOT_SHORTENED)).length,
    },
  );
}
