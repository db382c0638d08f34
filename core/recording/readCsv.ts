import Papa from 'papaparse';
import { FormatError } from '../errors.ts';
import { checkShape } from './checkShape.ts';
import { type CsvColumn, readCsvHeader } from './csvHeader.ts';
import { decodeCsv, guessDelimiter } from './csvText.ts';
import { findTimeStep } from './findTimeStep.ts';
import { RECORDING_LIMITS, type Recording } from './recording.ts';

/** A growing column of numbers: typed from the first row, so that a long file fits in memory. */
class Column {
  values = new Float64Array(4096);
  length = 0;

  push(value: number): void {
    if (this.length === this.values.length) {
      const grown = new Float64Array(this.values.length * 2);
      grown.set(this.values);
      this.values = grown;
    }
    this.values[this.length++] = value;
  }

  finish(factor: number): Float64Array {
    const out = this.values.slice(0, this.length);
    if (factor !== 1) for (let i = 0; i < out.length; i++) out[i] = out[i]! * factor;
    return out;
  }
}

const RATE_KEY = 'sample_rate_hz';

/**
 * Reads a CSV recording. The convention is ours and is laid down in docs/recordings.md: one header row;
 * either a time column or a line `sample_rate_hz,<number>` above the header; every other column named with
 * its unit (m/s2, g, mg, or fs for fractions of full scale). Lines that start with # are passed over. Comma,
 * semicolon or tab between cells, point as decimal mark.
 * @param fileName - named in errors
 * @throws FormatError `csv.*` or `recording.*`, naming row (counted from 1 as in an editor), column and
 *   value
 */
export function readCsv(bytes: Uint8Array, fileName: string): Recording {
  if (bytes.length > RECORDING_LIMITS.largestCsvBytes) {
    throw new FormatError(
      'csv.size',
      `${fileName} has ${bytes.length} bytes; a CSV recording has at most ${RECORDING_LIMITS.largestCsvBytes}.`,
      'Export the recording as WAV, or cut it into shorter files around the strikes.',
    );
  }
  const text = decodeCsv(bytes, fileName);
  const delimiter = guessDelimiter(text, (line) => !line.toLowerCase().startsWith(RATE_KEY));
  let statedRateHz: number | null = null;
  let columns: readonly CsvColumn[] | null = null;
  let stores: Column[] = [];
  const timeDecimals = { most: 0 };
  const rowOfFrame: number[] = [];
  let row = 0;
  let failure: FormatError | null = null;

  const takeRow = (cells: string[]): void => {
    row++;
    if (cells.length === 1 && cells[0]!.trim() === '') return;
    if (cells[0]!.startsWith('#')) return;
    if (columns === null) {
      if (cells[0]!.trim().toLowerCase() === RATE_KEY && cells.length <= 2) {
        statedRateHz = readNumber(cells[1] ?? '', row, RATE_KEY, fileName);
        return;
      }
      columns = readCsvHeader(cells, row, statedRateHz, fileName);
      stores = columns.map(() => new Column());
      return;
    }
    if (cells.length !== columns.length) {
      throw new FormatError(
        'csv.cells',
        `${fileName}, row ${row}: ${cells.length} cells; the header has ${columns.length}.`,
        'The row is cut short or holds a stray delimiter; mend it or remove it with all rows after it.',
      );
    }
    for (let c = 0; c < cells.length; c++) {
      const column = columns[c]!;
      stores[c]!.push(readNumber(cells[c]!, row, column.name, fileName));
      if (column.kind === 'time') timeDecimals.most = Math.max(timeDecimals.most, countDecimals(cells[c]!));
    }
    rowOfFrame.push(row);
  };

  Papa.parse<string[]>(text, {
    delimiter,
    step: (result, parser) => {
      try {
        takeRow(result.data);
      } catch (error) {
        failure = error as FormatError;
        parser.abort();
      }
    },
  });
  if (failure !== null) throw failure;
  if (columns === null) throw noHeader(fileName);
  return assemble(columns, stores, statedRateHz, timeDecimals.most, rowOfFrame, fileName);
}

function assemble(
  columns: readonly CsvColumn[],
  stores: readonly Column[],
  statedRateHz: number | null,
  timeDecimals: number,
  rowOfFrame: readonly number[],
  fileName: string,
): Recording {
  const frames = rowOfFrame.length;
  const timeAt = columns.findIndex((column) => column.kind === 'time');
  const values = columns.flatMap((column, i) =>
    column.kind === 'time' ? [] : [{ column, store: stores[i]! }],
  );
  // Too few rows for a time step: let the shape check speak, with a rate that is in range.
  const tooFew = frames < RECORDING_LIMITS.fewestFrames;
  if (tooFew) checkShape(fileName, values.length, RECORDING_LIMITS.lowestSampleRateHz, frames);
  let sampleRateHz = statedRateHz;
  if (timeAt >= 0) {
    const factor = columns[timeAt]!.factor;
    const timeS = stores[timeAt]!.finish(factor);
    const roundingS = 0.5 * 10 ** -timeDecimals * factor;
    sampleRateHz = 1 / findTimeStep(timeS, roundingS, rowOfFrame, fileName);
    if (statedRateHz !== null && Math.abs(statedRateHz / sampleRateHz - 1) > 1e-3) {
      throw new FormatError(
        'csv.rate',
        `${fileName}: ${RATE_KEY} states ${statedRateHz} Hz and the time column steps at ${sampleRateHz.toPrecision(6)} Hz; they differ by more than 0.1 %.`,
        'Remove the one that is wrong.',
      );
    }
  }
  checkShape(fileName, values.length, sampleRateHz!, frames);
  const unit = values[0]!.column.kind === 'full scale' ? 'full scale' : 'm/s2';
  const channels = values.map(({ column, store }) => store.finish(column.factor));
  return { sampleRateHz: sampleRateHz!, channels, unit, frames, coding: 'text', warnings: [] };
}

function readNumber(cell: string, row: number, column: string, fileName: string): number {
  const trimmed = cell.trim();
  const value = trimmed === '' ? Number.NaN : Number(trimmed);
  if (Math.abs(value) <= RECORDING_LIMITS.largestValue) return value;
  throw new FormatError(
    'csv.number',
    `${fileName}, row ${row}, column "${column}": "${cell.slice(0, 40)}" is not a number of at most ${RECORDING_LIMITS.largestValue}.`,
    'Use a point as decimal mark and no separator of thousands; a missing sample cannot be filled in, so cut the file there.',
  );
}

function countDecimals(cell: string): number {
  const match = /\.(\d+)(?:e([+-]?\d+))?$/i.exec(cell.trim());
  return match === null ? 0 : match[1]!.length - Number(match[2] ?? 0);
}

function noHeader(fileName: string): FormatError {
  return new FormatError(
    'csv.header',
    `${fileName}: no header row was found.`,
    'The first row names the columns with units, for instance: time_s,plane0_m_per_s2,plane1_m_per_s2 (docs/recordings.md).',
  );
}
