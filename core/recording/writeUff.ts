import { InputError } from '../errors.ts';
import { UFF_ORDINATES, type UffAxis, type UffDataset, type UffOrdinate } from './uffDataset.ts';

export interface WriteUffOptions {
  /** `ascii` keeps 6 digits of single and 13 of double precision; `binary` (58b, little-endian) keeps all. */
  readonly form: 'ascii' | 'binary';
  /** @default '\n' */
  readonly lineEnd?: '\n' | '\r\n';
}

/** Digits behind the point and characters of E13.5 and E20.12. */
const REALS = {
  single: { digits: 5, width: 13, aLine: 6 },
  double: { digits: 12, width: 20, aLine: 4 },
} as const;

/**
 * Writes datasets 58 as a universal file; see {@link readUff} for form and source. What a reader gives is
 * written back without change where the form, the precision and the line ends are those of the file.
 * @throws InputError `uff.text` for text that does not fit its columns or is not Latin-1
 */
export function writeUff(datasets: readonly UffDataset[], options: WriteUffOptions): Uint8Array {
  const { form, lineEnd = '\n' } = options;
  const parts: Uint8Array[] = [];
  const writeLines = (lines: readonly string[]) =>
    parts.push(Buffer.from(lines.map((line) => line + lineEnd).join(''), 'latin1'));
  for (const dataset of datasets) {
    const data = form === 'binary' ? encodeBinary(dataset) : null;
    const identifier =
      data === null
        ? right(58, 6)
        : `${right(58, 6)}b${[1, 2].map((n) => right(n, 6)).join('')}${[11, data.length].map((n) => right(n, 12)).join('')}${[0, 0].map((n) => right(n, 6)).join('')}${[0, 0].map((n) => right(n, 12)).join('')}`;
    writeLines([right(-1, 6), identifier, ...formatHeader(dataset)]);
    if (data === null) writeLines(formatValues(dataset));
    else parts.push(data);
    writeLines([right(-1, 6)]);
  }
  return Buffer.concat(parts);
}

function formatHeader(dataset: UffDataset): string[] {
  const { response, reference } = dataset;
  const parts = dataset.ordinateForm.startsWith('complex') ? 2 : 1;
  const single = REALS.single;
  return [
    ...dataset.idLines.map((line) => checkText(line, 80)),
    [
      right(dataset.functionKind, 5),
      right(dataset.functionId, 10),
      right(dataset.version, 5),
      right(dataset.loadCase, 10),
      ` ${left(response.entity, 10)}${right(response.node, 10)}${right(response.direction, 4)}`,
      ` ${left(reference.entity, 10)}${right(reference.node, 10)}${right(reference.direction, 4)}`,
    ].join(''),
    [
      right(codeOf(dataset.ordinateForm), 10),
      right(dataset.values.length / parts, 10),
      right(1, 10),
      ...[dataset.abscissaStart, dataset.abscissaStep, dataset.zValue].map((value) =>
        formatReal(value, single.digits, single.width),
      ),
    ].join(''),
    ...[dataset.abscissa, dataset.ordinate, dataset.denominator, dataset.zAxis].map(formatAxis),
  ];
}

function formatAxis({ kind, exponents, label, unit }: UffAxis): string {
  return `${right(kind, 10)}${exponents.map((exponent) => right(exponent, 5)).join('')} ${left(label, 20)} ${left(unit, 20)}`;
}

function formatValues({ ordinateForm, values }: UffDataset): string[] {
  const { digits, width, aLine } = REALS[ordinateForm.endsWith('single') ? 'single' : 'double'];
  const lines: string[] = [];
  for (let at = 0; at < values.length; at += aLine) {
    let line = '';
    for (let i = at; i < Math.min(at + aLine, values.length); i++)
      line += formatReal(values[i]!, digits, width);
    lines.push(line);
  }
  return lines;
}

function encodeBinary({ ordinateForm, values }: UffDataset): Uint8Array {
  const isSingle = ordinateForm.endsWith('single');
  const bytes = new Uint8Array(values.length * (isSingle ? 4 : 8));
  const view = new DataView(bytes.buffer);
  for (let i = 0; i < values.length; i++) {
    if (isSingle) view.setFloat32(4 * i, values[i]!, true);
    else view.setFloat64(8 * i, values[i]!, true);
  }
  return bytes;
}

function codeOf(form: UffOrdinate): number {
  return Number(Object.entries(UFF_ORDINATES).find(([, name]) => name === form)![0]);
}

/** Fortran's E form with two digits of exponent at least, as `-1.47553E-02`. */
function formatReal(value: number, digits: number, width: number): string {
  const [mantissa, exponent] = value.toExponential(digits).split('e') as [string, string];
  return `${mantissa}E${exponent[0]}${exponent.slice(1).padStart(2, '0')}`.padStart(width);
}

function right(value: number, width: number): string {
  return checkText(String(value), width).padStart(width);
}

function left(text: string, width: number): string {
  return checkText(text, width).padEnd(width);
}

function checkText(text: string, width: number): string {
  if (text.length <= width && [...text].every((character) => character >= ' ' && character <= '\u00ff'))
    return text;
  throw new InputError(
    'uff.text',
    `"${text.slice(0, 100)}" does not fit ${width} Latin-1 characters of a universal file.`,
    'Shorten it, and keep to one line.',
  );
}
