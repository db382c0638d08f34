import { FormatError } from '../errors.ts';
import { RECORDING_LIMITS } from './recording.ts';
import { UFF_ORDINATES, type UffAxis, type UffDataset, type UffOrdinate } from './uffDataset.ts';
import { createUffLines, type UffLines } from './uffLines.ts';

/** What a universal file holds. */
export interface UffFile {
  readonly datasets: readonly UffDataset[];
  /** Numbers of the datasets that were passed over, in the order of the file. */
  readonly skipped: readonly number[];
}

const MARK = /^ {4}-1\s*$/;
const IDENTIFIER = /^[ \d]{5}\d/;
/** Lines of header behind the identifier, in both forms. */
const HEADER_LINES = 11;
const ID_LINES = 5;
/** Fields of the ASCII form, in characters: 6E13.5 for single and 4E20.12 for double precision. */
const FIELDS = {
  single: { width: 13, aLine: 6 },
  double: { width: 20, aLine: 4 },
} as const;
const BINARY_FIELDS = [
  { name: 'byte order', start: 7, end: 13 },
  { name: 'floating-point form', start: 13, end: 19 },
  { name: 'lines of header', start: 19, end: 31 },
  { name: 'bytes of data', start: 31, end: 43 },
] as const;
const LITTLE_ENDIAN = 1;
const BIG_ENDIAN = 2;
const IEEE_754 = 2;
const HINT = 'Export again as dataset 58 with an even abscissa, or as WAV or CSV.';

/**
 * Reads the datasets 58 of a universal file, the open exchange form of modal testing: ASCII, and binary (58b)
 * in IEEE 754 of either byte order, even abscissa, real or complex, single or double (University of
 * Cincinnati, Structural Dynamics Research Laboratory, "Universal Dataset Number 58" and its binary form).
 * Numbers stay as the file gives them; other datasets are passed over and named.
 * @param fileName - named in errors
 * @throws FormatError `uff.*` or `recording.*` naming the line or dataset, the value and what was expected
 */
export function readUff(bytes: Uint8Array, fileName: string): UffFile {
  const lines = createUffLines(bytes);
  const datasets: UffDataset[] = [];
  const skipped: number[] = [];
  for (let line = lines.next(); line !== null; line = lines.next()) {
    if (line.trim() === '') continue;
    if (!MARK.test(line))
      throw refuse(fileName, lines, `"${show(line)}" stands where a dataset begins or ends with -1`);
    const identifier = lines.next();
    if (identifier === null || identifier.trim() === '') break;
    if (!IDENTIFIER.test(identifier))
      throw refuse(fileName, lines, `"${show(identifier)}" is no number of a dataset`);
    const number = Number(identifier.slice(0, 6));
    if (number !== 58) {
      skipped.push(number);
      skipDataset(lines);
      continue;
    }
    if (datasets.length >= RECORDING_LIMITS.channels) {
      throw new FormatError(
        'recording.channels',
        `${fileName}: more than ${RECORDING_LIMITS.channels} datasets 58; one a channel is read.`,
        'Export only the channels of the accelerometers.',
      );
    }
    datasets.push(readDataset(lines, identifier, fileName));
    const end = lines.next();
    if (end === null || !MARK.test(end))
      throw refuse(
        fileName,
        lines,
        `"${show(end ?? '')}" stands where dataset ${datasets.length} ends with -1`,
      );
  }
  if (datasets.length === 0) {
    throw new FormatError('uff.none', `${fileName}: the universal file holds no dataset 58.`, HINT);
  }
  return { datasets, skipped };
}

function skipDataset(lines: UffLines): void {
  for (let line = lines.next(); line !== null && !MARK.test(line); ) line = lines.next();
}

function readDataset(lines: UffLines, identifier: string, fileName: string): UffDataset {
  const binary = identifier[6]?.toLowerCase() === 'b' ? readBinaryFields(identifier, lines, fileName) : null;
  const header: string[] = [];
  for (let i = 0; i < HEADER_LINES; i++) {
    const line = lines.next();
    if (line === null) throw refuse(fileName, lines, 'the file ends within a header of 11 lines');
    header.push(line);
  }
  const readInteger = (record: number, start: number, end: number): number => {
    const text = header[record - 1]!.slice(start, end).trim();
    if (/^[+-]?\d+$/.test(text) || text === '') return Number(text);
    throw refuse(fileName, lines, `record ${record} of the header holds "${show(text)}" for a whole number`);
  };
  const readReal = (record: number, start: number): number => {
    const value = parseReal(header[record - 1]!.slice(start, start + FIELDS.single.width));
    if (Number.isFinite(value)) return value;
    throw refuse(
      fileName,
      lines,
      `record ${record} of the header holds no number from column ${start + 1} on`,
    );
  };
  const readAxis = (record: number): UffAxis => ({
    kind: readInteger(record, 0, 10),
    exponents: [readInteger(record, 10, 15), readInteger(record, 15, 20), readInteger(record, 20, 25)],
    label: header[record - 1]!.slice(26, 46).trimEnd(),
    unit: header[record - 1]!.slice(47, 67).trimEnd(),
  });
  const ordinateForm = UFF_ORDINATES[readInteger(7, 0, 10)];
  const count = readInteger(7, 10, 20);
  if (ordinateForm === undefined)
    throw refuse(fileName, lines, `ordinate type ${readInteger(7, 0, 10)} is none of 2, 4, 5 and 6`);
  if (readInteger(7, 20, 30) !== 1)
    throw refuse(fileName, lines, 'the abscissa is uneven; an even one is expected');
  const parts = ordinateForm.startsWith('complex') ? 2 : 1;
  const values =
    binary === null
      ? readText(lines, count * parts, ordinateForm, fileName)
      : readBinary(lines, count * parts, ordinateForm, binary, fileName);
  return {
    idLines: header.slice(0, ID_LINES).map((line) => line.trimEnd()),
    functionKind: readInteger(6, 0, 5),
    functionId: readInteger(6, 5, 15),
    version: readInteger(6, 15, 20),
    loadCase: readInteger(6, 20, 30),
    response: {
      entity: header[5]!.slice(31, 41).trimEnd(),
      node: readInteger(6, 41, 51),
      direction: readInteger(6, 51, 55),
    },
    reference: {
      entity: header[5]!.slice(56, 66).trimEnd(),
      node: readInteger(6, 66, 76),
      direction: readInteger(6, 76, 80),
    },
    ordinateForm,
    abscissaStart: readReal(7, 30),
    abscissaStep: readReal(7, 43),
    zValue: readReal(7, 56),
    abscissa: readAxis(8),
    ordinate: readAxis(9),
    denominator: readAxis(10),
    zAxis: readAxis(11),
    values,
  };
}

interface BinaryForm {
  readonly littleEndian: boolean;
  readonly dataBytes: number;
}

function readBinaryFields(identifier: string, lines: UffLines, fileName: string): BinaryForm {
  const [order, floats, headerLines, dataBytes] = BINARY_FIELDS.map(({ name, start, end }) => {
    const text = identifier.slice(start, end).trim();
    if (/^\d+$/.test(text)) return Number(text);
    throw refuse(
      fileName,
      lines,
      `field ${name} of a binary dataset is "${show(text)}"; a whole number is expected`,
    );
  });
  if (order !== LITTLE_ENDIAN && order !== BIG_ENDIAN)
    throw refuse(fileName, lines, `byte order is ${order}; 1 (little-endian) or 2 (big-endian) is expected`);
  if (floats !== IEEE_754)
    throw refuse(fileName, lines, `floating-point form is ${floats}; 2 (IEEE 754) is expected`);
  if (headerLines !== HEADER_LINES)
    throw refuse(fileName, lines, `lines of header are ${headerLines}; ${HEADER_LINES} are expected`);
  return { littleEndian: order === LITTLE_ENDIAN, dataBytes: dataBytes! };
}

function readBinary(
  lines: UffLines,
  count: number,
  ordinateForm: UffOrdinate,
  form: BinaryForm,
  fileName: string,
): Float64Array {
  const isSingle = ordinateForm.endsWith('single');
  const needed = count * (isSingle ? 4 : 8);
  if (form.dataBytes !== needed || lines.bytesLeft() < needed) {
    throw refuse(
      fileName,
      lines,
      `${count} numbers, ${ordinateForm}, take ${needed} bytes; ${form.dataBytes} are stated and ${lines.bytesLeft()} are there`,
    );
  }
  const data = lines.takeBytes(needed);
  const view = new DataView(data.buffer, data.byteOffset, data.byteLength);
  const values = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    values[i] = isSingle
      ? view.getFloat32(4 * i, form.littleEndian)
      : view.getFloat64(8 * i, form.littleEndian);
    if (!(Math.abs(values[i]!) <= RECORDING_LIMITS.largestValue))
      throw refuse(fileName, lines, `value ${i} is ${values[i]}; a number of at most 1e9 is expected`);
  }
  return values;
}

function readText(lines: UffLines, count: number, ordinateForm: UffOrdinate, fileName: string): Float64Array {
  const { width, aLine } = FIELDS[ordinateForm.endsWith('single') ? 'single' : 'double'];
  // A field takes a character at least; a count that the file cannot hold is refused before it takes memory.
  if (count < 0 || count > lines.bytesLeft())
    throw refuse(fileName, lines, `${count} values are stated and ${lines.bytesLeft()} bytes are left`);
  const values = new Float64Array(count);
  let at = 0;
  while (at < count) {
    const line = lines.next();
    if (line === null || MARK.test(line))
      throw refuse(fileName, lines, `the data end after ${at} of ${count} values`);
    for (let field = 0; field < aLine && at < count; field++) {
      const value = parseReal(line.slice(field * width, (field + 1) * width));
      if (!(Math.abs(value) <= RECORDING_LIMITS.largestValue)) {
        throw refuse(
          fileName,
          lines,
          `columns ${field * width + 1} to ${(field + 1) * width} hold "${show(line.slice(field * width, (field + 1) * width))}"; a number of at most 1e9 is expected`,
        );
      }
      values[at++] = value;
    }
  }
  return values;
}

/** A Fortran real: also with the exponent letter D; NaN for anything else, and for an empty field. */
function parseReal(text: string): number {
  const trimmed = text.trim();
  return trimmed === '' ? Number.NaN : Number(trimmed.replace(/[dD]/, 'e'));
}

function refuse(fileName: string, lines: UffLines, complaint: string): FormatError {
  return new FormatError('uff.form', `${fileName}, line ${lines.lineNumber()}: ${complaint}.`, HINT);
}

/** A piece of the file fit for a message. */
function show(text: string): string {
  return text.slice(0, 40).replace(/[^ -~]/g, '?');
}
