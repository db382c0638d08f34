import { type CalibrationDocument, tellsSameBreak } from '../../strength/index.ts';
import type { ListedBreakTest } from './breakTests.repository.ts';

/**
 * How many tests of a calibration are in no fit any more, since somebody set them aside, and why the last were.
 * @param kept - all tests of the workspace; one whose break another test in use tells counts as in use
 * @returns a sentence; null where none is
 */
export function tellSetAside(
  { rows }: Pick<CalibrationDocument, 'rows'>,
  kept: readonly ListedBreakTest[],
): string | null {
  const choices = rows.flatMap((row) => {
    const same = kept.filter((test) => tellsSameBreak({ row }, test));
    return same.every(({ setAside }) => setAside !== null) ? (same.at(-1)?.setAside ?? []) : [];
  });
  const last = choices.toSorted((a, b) => a.chosenAt.localeCompare(b.chosenAt)).at(-1);
  if (!last) return null;
  const { chosenBy, chosenAt, reason } = last;
  const why = reason === '' ? '' : `: ${reason}`;
  return `${choices.length} of its ${rows.length} tests are set aside now (${chosenBy}, ${chosenAt.slice(0, 10)}${why}).`;
}
