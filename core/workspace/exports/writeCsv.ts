import Papa from 'papaparse';
import { keepFromFormulas } from '../../keepFromFormulas.ts';
import type { RegisterRow } from '../contract.ts';
import type { Parts, RowOfVisit } from './readExportRows.ts';
import { RESULT_COLUMNS } from './resultColumns.ts';

/** Rows of the register as CSV (RFC 4180), part by part: one heading, one line a visit, no text that runs as a formula. */
export async function* writeCsv(parts: Parts<RowOfVisit>): AsyncGenerator<Buffer> {
  yield Buffer.from(unparse([RESULT_COLUMNS.map(({ title }) => title)]));
  for await (const part of parts) {
    if (part.length > 0) yield Buffer.from(`\r\n${unparse(part.map(({ row }) => readCells(row)))}`);
  }
}

function readCells(row: RegisterRow) {
  return RESULT_COLUMNS.map(({ cell }) => keepFromFormulas(cell(row)));
}

function unparse(lines: readonly (readonly unknown[])[]): string {
  return Papa.unparse(lines as unknown[][]);
}
