import type { BreakTestRow } from '../relation/breakTestRow.ts';
import { countArmsNotShortened } from './countArmsNotShortened.ts';
import { noteSeries } from './noteSeries.ts';
import type { BreakTestDetail } from './readBreakTests.ts';

/** Says of tests that were kept, of one table or several, what {@link noteSeries} says of a table when it is read. */
export function noteKeptTests(
  tests: readonly { readonly row: BreakTestRow; readonly detail: Pick<BreakTestDetail, 'remarks'> }[],
): string[] {
  return noteSeries(
    tests.map(({ row }) => row),
    {
      withoutSpecies: tests.filter(({ row }) => row.species === 'other').length,
      withoutArmLoss: countArmsNotShortened(tests.map(({ detail }) => detail)),
    },
  );
}
