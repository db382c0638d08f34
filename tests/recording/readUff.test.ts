import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FormatError, InputError } from '../../core/errors.ts';
import { readRecording, readUff, type UffDataset, writeUff } from '../../core/recording/index.ts';

const noAxis = { kind: 0, exponents: [0, 0, 0], label: 'NONE', unit: 'NONE' } as const;

function makeDataset(change: Partial<UffDataset> = {}): UffDataset {
  return {
    idLines: ['made', 'NONE', '01-May-26 10:00:00', 'NONE', 'NONE'],
    functionKind: 1,
    functionId: 0,
    version: 0,
    loadCase: 0,
    response: { entity: 'pole', node: 1, direction: 1 },
    reference: { entity: 'NONE', node: 0, direction: 0 },
    ordinateForm: 'real double',
    abscissaStart: 0,
    abscissaStep: 5e-4,
    zValue: 0,
    abscissa: { kind: 17, exponents: [0, 0, 0], label: 'time', unit: 's' },
    ordinate: { kind: 12, exponents: [1, 0, 0], label: 'x', unit: 'm/s2' },
    denominator: noAxis,
    zAxis: noAxis,
    values: Float64Array.from({ length: 50 }, (_, i) => Math.sin(i) * 10 ** (i % 5)),
    ...change,
  };
}

const other = Buffer.from('    -1\n   164\n         1SI: Metre (newton)           2\n    -1\n');
const text = (dataset: UffDataset) => Buffer.from(writeUff([dataset], { form: 'ascii' })).toString('latin1');

/** As data loggers write it: lines filled up to 80, exponents of three digits, the last line part empty, UTF-8. */
const LOGGER = [
  '    -1',
  '    58',
  '1x : m/s²',
  'a logger',
  '30-Apr-20 19:12:52',
  'NONE',
  'NONE',
  '    1         0    0         0 NONE               0   0 NONE               0   0',
  '         2        17         1 0.00000E+000 5.00000E-005 0.00000E+000           ',
  '        17    0    0    0 Time                 s                                ',
  '         1    0    0    0 1x                   m/s²                             ',
  '         0    0    0    0 NONE                 NONE                             ',
  '         0    0    0    0 NONE                 NONE                             ',
  ' -3.81956E+00 -3.56616E+00 -2.98987E+00 -2.62207E+00 -3.22879E+00 -3.63712E+00',
  ' -3.90210E+00 -3.69214E+00 -3.42426E+00 -3.48508E+00 -4.03966E+00 -3.46046E+00',
  '-5.84096E+000-5.84096D-001  1.00000E+00  2.00000E+00  3.00000E+00',
  '    -1',
]
  .map((line) => line.padEnd(80))
  .join('\r\n');

describe('readUff and writeUff', () => {
  test.each(['real single', 'real double', 'complex single', 'complex double'] as const)(
    '%s values come back, text to its digits and binary whole',
    (ordinateForm) => {
      const values = makeDataset().values.map((value) =>
        ordinateForm.endsWith('single') ? Math.fround(value) : value,
      );
      const dataset = makeDataset({ ordinateForm, values });
      const digits = ordinateForm.endsWith('single') ? 5 : 12;
      const printed = values.map((value) => Number(value.toExponential(digits)));
      const asText = readUff(writeUff([dataset], { form: 'ascii' }), 'a').datasets;
      expect(asText).toEqual([{ ...dataset, values: printed }]);
      const asBytes = readUff(writeUff([dataset], { form: 'binary', lineEnd: '\r\n' }), 'a').datasets;
      expect(asBytes).toEqual([dataset]);
    },
  );

  test('any finite doubles survive the binary form', () => {
    fc.assert(
      fc.property(fc.float64Array({ maxLength: 40, min: -1e9, max: 1e9, noNaN: true }), (values) => {
        const bytes = writeUff([makeDataset({ values })], { form: 'binary' });
        expect(readUff(bytes, 'a').datasets[0]!.values).toEqual(values);
      }),
      { seed: 5, numRuns: 100 },
    );
  });

  test('big-endian binary is read', () => {
    const bytes = Buffer.from(
      writeUff([makeDataset({ values: Float64Array.of(1, 2, 3) })], { form: 'binary' }),
    );
    bytes.write('     2', 14, 'latin1');
    const start = bytes.length - 7 - 24;
    bytes.subarray(start, start + 24).swap64();
    expect([...readUff(bytes, 'a').datasets[0]!.values]).toEqual([1, 2, 3]);
  });

  test('fields that touch, exponents of three digits, the letter D, and part-empty lines are read', () => {
    const { datasets } = readUff(Buffer.from(LOGGER), 'a');
    expect([...datasets[0]!.values].slice(10)).toEqual([-4.03966, -3.46046, -5.84096, -0.584096, 1, 2, 3]);
    const recording = readRecording(Buffer.from(LOGGER), 'a');
    expect(recording).toMatchObject({ sampleRateHz: 20_000, frames: 17, unit: 'm/s2', warnings: [] });
  });

  test('text that does not fit is refused', () => {
    const long = makeDataset({ ordinate: { ...noAxis, label: 'a label of more than twenty' } });
    expect(() => writeUff([long], { form: 'ascii' })).toThrow(InputError);
  });
});

describe('a universal file as a recording', () => {
  test('datasets are channels; others are passed over and named; g becomes m/s2', () => {
    const inG = makeDataset({ ordinate: { ...makeDataset().ordinate, unit: 'g' } });
    const force = makeDataset({ ordinate: { kind: 13, exponents: [0, 1, 0], label: 'hammer', unit: 'N' } });
    const bytes = Buffer.concat([other, writeUff([force, makeDataset(), inG], { form: 'binary' }), other]);
    const recording = readRecording(bytes, 'a.uff');
    expect(recording).toMatchObject({ sampleRateHz: 2000, frames: 50, unit: 'm/s2' });
    expect(recording.warnings.map(({ code }) => code)).toEqual(['uff.skipped', 'uff.other-channels']);
    expect(recording.channels).toHaveLength(2);
    expect(recording.channels[1]![7]! / recording.channels[0]![7]!).toBeCloseTo(9.80665, 9);
  });

  test('accelerations without a unit are taken as m/s2, with a warning', () => {
    const bytes = writeUff([makeDataset({ ordinate: { ...makeDataset().ordinate, unit: 'NONE' } })], {
      form: 'ascii',
    });
    expect(readRecording(bytes, 'a').warnings).toMatchObject([{ code: 'uff.unit-taken' }]);
  });

  test.each<[string, readonly UffDataset[], RegExp]>([
    [
      'a frequency response',
      [makeDataset({ functionKind: 4, abscissa: { ...noAxis, kind: 18 } })],
      /function kind 4/,
    ],
    ['a force', [makeDataset({ ordinate: { ...noAxis, kind: 13, unit: 'N' } })], /in N/],
    ['an unknown unit', [makeDataset({ ordinate: { ...noAxis, kind: 12, unit: 'in/s2' } })], /in in\/s2/],
    [
      'unlike lengths',
      [makeDataset(), makeDataset({ values: new Float64Array(49) })],
      /channel 1 has 49 values/,
    ],
    ['unlike steps', [makeDataset(), makeDataset({ abscissaStep: 1e-3 })], /steps of 0.001 s/],
    ['too few samples', [makeDataset({ values: new Float64Array(3) })], /holds 3 samples/],
    ['a step of zero', [makeDataset({ abscissaStep: 0 })], /sample rate is/],
  ])('refuses %s', (_, datasets, message) => {
    expect(() => readRecording(writeUff(datasets, { form: 'ascii' }), 'a')).toThrow(message);
    expect(() => readRecording(writeUff(datasets, { form: 'ascii' }), 'a')).toThrow(FormatError);
  });

  test.each<[string, string, RegExp]>([
    ['no dataset 58', other.toString(), /holds no dataset 58/],
    ['a header cut short', text(makeDataset()).slice(0, 200), /ends within a header/],
    ['data cut short', text(makeDataset()).slice(0, 900), /columns .*hold|data end after/],
    [
      'an uneven abscissa',
      text(makeDataset()).replace('        50         1', '        50         0'),
      /uneven/,
    ],
    [
      'an unknown ordinate',
      text(makeDataset()).replace('         4        50', '         3        50'),
      /type 3/,
    ],
    [
      'more values than bytes',
      text(makeDataset()).replace('        50         1', '  99999999         1'),
      /99999999 values/,
    ],
    [
      'a word among the values',
      text(makeDataset()).replace('0.000000000000E+00', '  three and a half'),
      /three and a half/,
    ],
    ['what is no dataset', `${text(makeDataset())}and more`, /"and more" stands where/],
    ['no end', text(makeDataset()).replace(/ {4}-1\n$/, ''), /ends with -1/],
  ])('refuses %s, naming the line', (_, file, message) => {
    expect(() => readUff(Buffer.from(file, 'latin1'), 'a')).toThrow(message);
  });

  test.each([
    [14, '     3', /byte order is 3/],
    [20, '     1', /floating-point form is 1/],
    [26, '          12', /lines of header are 12/],
    [38, '         399', /take 400 bytes; 399 are stated/],
    [38, '         x99', /"x99"/],
  ])('refuses a binary header changed at %i', (at, value, message) => {
    const bytes = Buffer.from(writeUff([makeDataset()], { form: 'binary' }));
    bytes.write(value, at, 'latin1');
    expect(() => readUff(bytes, 'a')).toThrow(message);
  });

  test('a binary value that is no number is refused', () => {
    const bytes = writeUff([makeDataset({ values: Float64Array.of(1, Number.NaN) })], { form: 'binary' });
    expect(() => readUff(bytes, 'a')).toThrow(/value 1 is NaN/);
  });
});
