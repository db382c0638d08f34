import Papa from 'papaparse';
import { FormatError } from '../../errors.ts';
import { decodeCsv, guessDelimiter } from '../../recording/index.ts';
import { type RefusedCell, TABLE_LIMITS } from './tableLimits.ts';

export type TableRow = { readonly line: number; readonly cells: readonly string[] };

export type Table = {
  readonly header: readonly string[];
  readonly rows: readonly TableRow[];
  readonly refused: readonly RefusedCell[];
};

/**
 * Reads a CSV table into cells: UTF-8 with or without mark, comma, semicolon or tab between cells, quotes as usual. Empty lines and
 * lines that begin with # are passed over; the first of the others is the header. Lines that cannot be a row of it are refused.
 * @returns cells without spaces at their ends; lines count from 1 as in an editor
 * @throws FormatError `breakTests.size`, `breakTests.header`, `csv.encoding`
 */
export function readTable(bytes: Uint8Array, fileName: string): Table {
  if (bytes.length > TABLE_LIMITS.bytes) {
    throw new FormatError(
      'breakTests.size',
      `${fileName} has ${bytes.length} bytes; a table of break tests has at most ${TABLE_LIMITS.bytes}.`,
      'Keep the columns that are needed, or cut the table into several.',
    );
  }
  // one kind of line end, so that a table mended by hand on another system is not read as one line
  const text = decodeCsv(bytes, fileName)
    .replace(/^\uFEFF/, '')
    .replace(/\r\n?/g, '\n');
  const lines = new LineCounter(text);
  let header: readonly string[] | null = null;
  const rows: TableRow[] = [];
  const refused: RefusedCell[] = [];
  let isTooLong = false;
  Papa.parse<string[]>(text, {
    delimiter: guessDelimiter(text),
    newline: '\n',
    step: ({ data, errors, meta }, parser) => {
      const line = lines.take(meta.cursor);
      if (line > TABLE_LIMITS.lines) {
        isTooLong = true;
        parser.abort();
        return;
      }
      if (data.every((cell) => cell.trim() === '') || data[0]!.startsWith('#')) return;
      const cells = data.map((cell) => cell.trim());
      if (header === null) {
        header = cells;
        return;
      }
      const complaint = complain(data, errors, header.length);
      if (complaint) refused.push({ line, column: null, ...complaint });
      else rows.push({ line, cells });
      if (rows.length + refused.length <= TABLE_LIMITS.rows) return;
      isTooLong = true;
      parser.abort();
    },
  });
  checkHeader(header, fileName);
  if (isTooLong) {
    throw new FormatError(
      'breakTests.size',
      `${fileName} has more than ${TABLE_LIMITS.rows} rows or ${TABLE_LIMITS.lines} lines.`,
      'Cut the table into several.',
    );
  }
  return { header: header!, rows, refused };
}

/** Tells the line on which each row begins, from the places where rows end. */
class LineCounter {
  readonly #text: string;
  #place = 0;
  #line = 1;

  constructor(text: string) {
    this.#text = text;
  }

  take(end: number): number {
    const begins = this.#line;
    for (let i = this.#place; i < end; i++) if (this.#text[i] === '\n') this.#line++;
    this.#place = end;
    return begins;
  }
}

function complain(
  cells: readonly string[],
  errors: readonly { code: string }[],
  width: number,
): Pick<RefusedCell, 'value' | 'reason' | 'hint'> | null {
  const value = cells[0]!.slice(0, TABLE_LIMITS.shownCharacters);
  if (errors.some(({ code }) => code === 'MissingQuotes' || code === 'InvalidQuotes')) {
    return {
      value,
      reason: 'a quotation mark is opened and not closed',
      hint: 'Close it or take it out: what follows on was taken for one cell.',
    };
  }
  if (cells.some((cell) => cell.length > TABLE_LIMITS.cellCharacters)) {
    return {
      value,
      reason: `a cell has more than ${TABLE_LIMITS.cellCharacters} characters`,
      hint: 'Keep notes out of the table.',
    };
  }
  const isTooLong = cells.slice(width).some((cell) => cell.trim() !== '');
  if (cells.length < width || isTooLong) {
    return {
      value,
      reason: `${cells.length} cells, and the header has ${width}`,
      hint: 'A cell is missing or a stray delimiter is in the line; a decimal comma needs semicolons between cells.',
    };
  }
  return null;
}

function checkHeader(header: readonly string[] | null, fileName: string): void {
  const complaint =
    header === null
      ? 'no header row was found'
      : header.length > TABLE_LIMITS.columns
        ? `the header has ${header.length} columns, more than ${TABLE_LIMITS.columns}`
        : header.some((cell) => cell.length > TABLE_LIMITS.cellCharacters)
          ? `a header cell has more than ${TABLE_LIMITS.cellCharacters} characters`
          : null;
  if (complaint === null) return;
  throw new FormatError(
    'breakTests.header',
    `${fileName}: ${complaint}.`,
    'The first row names the columns with their units, for instance: pole_id,groundline_circumference_m,load_height_m,break_load_kn (docs/break-tests.md).',
  );
}
