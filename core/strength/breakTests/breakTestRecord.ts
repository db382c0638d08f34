import { type BreakTestField, describeField } from './breakTestFields.ts';
import type { MappedColumns } from './breakTestMapping.ts';
import { QUANTITIES } from './quantities.ts';
import { readNumber } from './readNumber.ts';
import type { TableRow } from './readTable.ts';
import { type RefusedCell, TABLE_LIMITS } from './tableLimits.ts';

/** Cells of one row by field: figures in SI, text as it stands; what is empty or has no column is absent. */
export type BreakTestRecord = {
  readonly line: number;
  readonly figures: ReadonlyMap<BreakTestField, number>;
  readonly texts: ReadonlyMap<BreakTestField, string>;
};

/** As the row of a test allows. */
export const LONGEST_TEXT = 80;
/** Ways to write that nothing was measured. */
const NOTHING = /^(-|–|—|n\/?a|none|null|\.)?$/i;

/**
 * Reads the cells of a row by the mapping: figures into SI and within their plausible range, text of one line.
 * @returns the record, or every cell that is wrong
 */
export function readRecord(
  { line, cells }: TableRow,
  columns: MappedColumns,
  decimalMark: '.' | ',',
): BreakTestRecord | readonly RefusedCell[] {
  const figures = new Map<BreakTestField, number>();
  const texts = new Map<BreakTestField, string>();
  const refused: RefusedCell[] = [];
  for (const [field, { index, header, size }] of columns) {
    const cell = cells[index] ?? '';
    if (NOTHING.test(cell)) continue;
    const refuse = (reason: string, hint: string) =>
      refused.push({
        line,
        column: header,
        value: cell.slice(0, TABLE_LIMITS.shownCharacters),
        reason,
        hint,
      });
    const { quantity, least, most } = describeField(field);
    if (quantity === null) {
      if (cell.length <= LONGEST_TEXT && !/\p{Cc}/u.test(cell)) texts.set(field, cell);
      else
        refuse(`is longer than ${LONGEST_TEXT} characters or holds control characters`, 'Give a short name.');
      continue;
    }
    const reading = readNumber(cell, decimalMark);
    if ('reason' in reading) {
      refuse(reading.reason, reading.hint);
      continue;
    }
    const value = reading.value * size;
    const outside = (least !== undefined && value < least) || (most !== undefined && value > most);
    if (outside) {
      refuse(
        `is ${show(value)} ${QUANTITIES[quantity].units[0].name}, outside of ${show(least)} to ${show(most)}`,
        'Check the figure, the unit and the column.',
      );
      continue;
    }
    figures.set(field, value);
  }
  return refused.length > 0 ? refused : { line, figures, texts };
}

function show(value: number | undefined): string {
  return value === undefined ? 'any' : Number(value.toPrecision(4)).toString();
}
